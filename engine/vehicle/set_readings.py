"""Readings taken in sets: which situation a set stands for, and what is read in it.

Every set begins with the cabin as warm as the day, not as the set before left it. Under raised load the air
is fresh and the cabin is not drawn from; with its doors open the cabin is also warm again when the load is
lowered. Carrying its state over moved the lowered set of 60 sound cars by 0.4 K of intake, 0.2 psi and 0.1 K
of vent at most, less than any instrument shows, and would cost a settling of its own, because the looks and
proofs of the job share these states. Where lowered follows baseline with nothing between, it is up to 4 K of
intake, 5 psi on the high side and 0.9 K of vent (on average 2 K, 2 psi, 0.3 K).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from engine.flow.model import SetState
from engine.vehicle.bench import Bench, Measured, Told
from engine.vehicle.meter_display import displayed
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

__all__ = ["LOW_BLOWER", "SET_READINGS", "STAND_FAN", "scan_word", "set_situation"]

LOW_BLOWER = 0.4
"""Blower of the set at about 40 % blower."""

STAND_FAN = 3.0
"""Air of a strong stand fan at the grille, m/s; our assumption."""

# Near either end of its scale a bar in live data looks like the end; our assumption.
_MINIMUM, _MAXIMUM = 0.06, 0.94


def set_situation(bench: Bench, one: SetState) -> Situation:
    """What the technician sets up for that set: by its name, or by the load and speed it declares."""
    by_load = {
        "rest": bench.resting,
        "moderate": bench.moderate,
        "raised": bench.raised,
        "lowered": bench.lowered,
    }
    situation = by_load[one.load]
    if one.name == "stopped":
        return bench.switched_off
    if one.load == "rest":
        return situation
    if one.name == "full_command":
        situation = replace(situation, command="maximum")
    elif one.name == "low_blower":
        situation = replace(situation, blower=LOW_BLOWER)
    elif one.name == "wetted":
        situation = replace(situation, condenser_wetted=True)
    elif one.name == "fanned":
        situation = replace(situation, front_air_m_s=STAND_FAN)
    return situation if one.speed is None else replace(situation, engine_speed=one.speed)


def _gauge(side: str) -> Callable[[Bench, Situation, State], Told]:
    instrument = "low gauge" if side == "low_side" else "high gauge"
    return lambda _, __, state: Measured(instrument, getattr(state, side))


def _probe(name: str, instrument: str) -> Callable[[Bench, Situation, State], Told]:
    return lambda _, __, state: Measured(instrument, getattr(state, name))


def _speed(_: Bench, situation: Situation, __: State) -> Told:
    return Measured("tachometer", situation.engine_speed)


def _duty(bench: Bench, _: Situation, state: State) -> Told:
    return Measured("scan duty", state.duty) if bench.shop.scan_tool else None


def _display(bench: Bench, _: Situation, state: State) -> Told:
    return Measured("duty meter", displayed(bench, state)) if bench.shop.duty_meter else None


def _current(bench: Bench, _: Situation, state: State) -> Told:
    return Measured("current clamp", state.current) if bench.shop.current_clamp else None


def _supply(bench: Bench, _: Situation, state: State) -> Told:
    """At the pin that carries supply: steady on a ground-switched solenoid, pulsed on the other."""
    pulsed = bench.vehicle.electrics.switched_side == "supply"
    return Measured("voltmeter", max(state.supply_volts * (state.duty if pulsed else 1.0), 0.0))


def _command(bench: Bench, _: Situation, state: State) -> Told:
    return scan_word(state) if bench.shop.scan_tool else None


def scan_word(state: State) -> str:
    """What a scan tool's live data shows of the command: minimum, part or maximum."""
    share = state.command_share
    return "minimum" if share < _MINIMUM else "maximum" if share > _MAXIMUM else "part"


def _live(name: str, instrument: str) -> Callable[[Bench, Situation, State], Told]:
    """What a scan tool shows of a sensor while the set is read."""
    return lambda bench, _, state: (
        Measured(instrument, getattr(state, name)) if bench.shop.scan_tool else None
    )


def _clutch_action(bench: Bench, _: Situation, state: State) -> Told:
    """What the clutch does while the set is read."""
    if bench.vehicle.clutchless:
        return None
    if state.reason == "drive":
        return "stays-in"
    return "cycles" if state.cycling else "stays-in" if state.running else "stays-out"


def _while_cycling(name: str, instrument: str) -> Callable[[Bench, Situation, State], Told]:
    """A reading that a clutch which cycles gives, and no other."""
    return lambda _, __, state: (
        Measured(instrument, getattr(state, name)) if state.cycling and state.on_seconds > 0.0 else None
    )


SET_READINGS: Mapping[str, Callable[[Bench, Situation, State], Told]] = MappingProxyType(
    {
        "low_side": _gauge("low_side"),
        "high_side": _gauge("high_side"),
        "clutch_action": _clutch_action,
        "clutch_on_time": _while_cycling("on_seconds", "stopwatch"),
        "clutch_off_time": _while_cycling("off_seconds", "stopwatch"),
        "low_side_at_close": _while_cycling("low_side_at_close", "low gauge"),
        "engine_speed": _speed,
        "duty": _duty,
        "duty_displayed": _display,
        "solenoid_current": _current,
        "scan_command": _command,
        "mean_volts": _probe("mean_volts", "voltmeter"),
        "solenoid_supply": _supply,
        "vent_temperature": _probe("vent_temperature", "air probe"),
        "left_vent_temperature": _probe("vent_left", "air probe"),
        "right_vent_temperature": _probe("vent_right", "air probe"),
        "intake_temperature": _probe("intake_temperature", "air probe"),
        "suction_line_temperature": _probe("suction_line_temperature", "contact probe"),
        "liquid_line_temperature": _probe("liquid_line_temperature", "contact probe"),
        "condenser_outlet_temperature": _probe("condenser_outlet_temperature", "contact probe"),
        "evaporator_outlet_temperature": _probe("evaporator_outlet_temperature", "contact probe"),
        "evaporator_inlet_temperature": _probe("evaporator_inlet_temperature", "contact probe"),
        "discharge_temperature": _probe("discharge_temperature", "contact probe"),
        "evaporator_sensor": _live("evaporator_sensor", "scan temperature"),
        "pressure_sensor": _live("pressure_sensor", "scan pressure"),
        "condenser_air_temperature": _probe("condenser_air_temperature", "air probe"),
        "condenser_air_out_temperature": _probe("condenser_air_out_temperature", "air probe"),
    }
)
"""By name; a reading of the job may be of these too, and is then taken under raised load."""
