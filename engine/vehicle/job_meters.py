"""Readings of the job that a meter, a scan tool, an identifier or a scale gives."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from engine.physics.solenoid import copper_factor
from engine.vehicle.bench import Bench, Measured, Told
from engine.vehicle.meter_display import NO_EDGES, displayed
from engine.vehicle.situation import Situation

__all__ = ["JOB_METERS"]

Rule = Callable[[Bench], Told]

_AIR_SHARE = 0.008  # by weight, from which identifiers report air; our assumption
_SWITCH_SHUTS_PA = 0.18e6  # gauge; a low-pressure cut-out is open below that (design: cut_out_low_pa)
_RELAY_REACHED = 0.7  # share of cars whose compressor relay a meter gets at; our assumption
_SENSOR_REACHED = 0.75  # share of evaporator sensors that can be drawn out; our assumption
_ICE_K, _OFF_K = 0.6, 2.0  # error of sound sensor, table and bath together; from where it is called off
_GETS_OUT = (0.955, 0.995)  # share of the charge a machine recovers; our assumption


def _yes(value: bool) -> str:
    return "yes" if value else "no"


# -- contents
def _purity(bench: Bench) -> Told:
    if not bench.shop.identifier or _holds_nothing(bench):
        return None
    way = bench.way("contaminated-refrigerant")
    if way in ("hydrocarbon", "other-refrigerant"):
        return Measured("identifier", bench.chance("purity").uniform(0.60, 0.95))
    return Measured("identifier", bench.chance("purity").uniform(0.992, 1.0))


def _holds_nothing(bench: Bench) -> bool:
    """Too little pressure to take a sample."""
    return bench.state(bench.resting).low_side < 30e3


def _sealant(bench: Bench) -> Told:
    """Shops with an identifier have the test that protects it; a thin film passes it now and then."""
    if not bench.shop.identifier or _holds_nothing(bench):
        return None
    inside = bench.way("contaminated-refrigerant") == "sealant"
    return "sealant" if inside and bench.happens("sealant test", 0.95) else "clean"


def _sample(bench: Bench) -> Told:
    if not bench.shop.identifier:
        return None
    return "too-little" if _holds_nothing(bench) else "taken"


def _contamination(bench: Bench) -> Told:
    if not bench.shop.identifier or _holds_nothing(bench):
        return None
    way = bench.way("contaminated-refrigerant")
    found = [way] if way else []
    charge = bench.state(bench.resting).charge_kg
    share = bench.effects.air_kg / (charge + bench.effects.air_kg) if charge > 0.0 else 0.0
    if share > _AIR_SHARE or (share > 0.4 * _AIR_SHARE and bench.happens("air:little", 0.6)):
        found.append("air")
    return ", ".join(found) or "none"


def _recovered(bench: Bench) -> Told:
    if not bench.shop.certified:
        return None
    share = bench.chance("recovered").uniform(*_GETS_OUT)
    return Measured("scale", bench.state(bench.resting).charge_kg * share)


def _recharged(bench: Bench) -> Told:
    return _yes(bench.happens("recharged", 0.7)) if bench.shop.certified else None


def _oil(bench: Bench) -> Told:
    if not bench.shop.certified:
        return None
    if bench.effects.oil_factor > 1.15 and bench.sees("oil:more", 0.85):
        return "more"
    if bench.effects.metal_in_oil and bench.sees("oil:less", 0.2):
        return "less"
    drawn = bench.chance("oil:any").random()
    return "less" if drawn < 0.06 else "more" if drawn < 0.09 else "as-stated"


# -- sensors after the soak
def _sensor(name: str, instrument: str) -> Rule:
    def told(bench: Bench) -> Told:
        if not bench.shop.scan_tool:
            return None
        return Measured(instrument, getattr(bench.state(bench.resting), name))

    return told


def _in_ice(bench: Bench) -> Told:
    """Against the maker's table, where the sensor can be drawn out."""
    if not bench.shop.service_data or not bench.happens("ice:reached", _SENSOR_REACHED):
        return None
    off_k = bench.effects.evaporator_sensor_k + bench.chance("ice").gauss(0.0, _ICE_K)
    return "off" if abs(off_k) >= _OFF_K else "right"


# -- the solenoid, unplugged
def _coil_ohm(bench: Bench) -> float:
    return bench.state(bench.resting).coil_resistance


def _solenoid_resistance(bench: Bench) -> Told:
    return Measured("ohmmeter", _coil_ohm(bench) + bench.shop.lead_ohm)


def _lead_resistance(bench: Bench) -> Told:
    return Measured("ohmmeter", bench.shop.lead_ohm) if bench.happens("leads", 0.9) else None


def _coil_temperature(bench: Bench) -> Told:
    return Measured("contact probe", bench.state(bench.resting).coil_temperature)


def _to_case(bench: Bench) -> Told:
    if not bench.vehicle.electrics.two_wire:
        return _solenoid_resistance(bench)
    touching = bench.effects.coil_to_case
    ohm = bench.chance("to case").uniform(0.2, 4.0) + bench.shop.lead_ohm if touching else math.inf
    return Measured("ohmmeter", ohm)


# -- the clutch
def _clutch_supply(bench: Bench) -> Told:
    if bench.vehicle.clutchless:
        return None
    state = bench.state(bench.moderate)
    asked = state.running or state.reason in ("clutch", "drive")
    supplied = asked and bench.way("clutch-circuit") != "wire"
    return Measured("voltmeter", bench.vehicle.electrics.supply_v - 0.2 if supplied else 0.0)


def _clutch_commanded(bench: Bench) -> Told:
    """The relay's state: on, unless the control itself holds the clutch off.

    It stands in live data, and at the relay's control pins for who has the diagram and gets at them.
    """
    shop = bench.shop
    at_the_relay = shop.service_data and bench.happens("relay reached", _RELAY_REACHED)
    if bench.vehicle.clutchless or not (shop.scan_tool or at_the_relay):
        return None
    state = bench.state(bench.moderate)
    return _yes(state.running or state.reason in ("clutch", "drive"))


def _clutch_coil(bench: Bench) -> Told:
    if bench.vehicle.clutchless:
        return None
    if bench.way("clutch-circuit") == "coil":
        return Measured("ohmmeter", math.inf)
    warm = copper_factor(bench.weather.ambient_k + 15.0)
    return Measured("ohmmeter", bench.vehicle.electrics.clutch_coil_ohm_20 * warm + bench.shop.lead_ohm)


def _cut_outs(bench: Bench) -> Told:
    """The switches in the clutch's supply, unplugged and ohmed at rest; closed where pressure is right."""
    way = bench.way("cut-out-switch-open")
    if way:
        return f"{way}-open"
    return "low-open" if bench.state(bench.resting).high_side < _SWITCH_SHUTS_PA else "closed"


# -- the command, plugged in
def _displayed(bench: Bench, situation: Situation) -> Told:
    if not bench.shop.duty_meter:
        return None
    return Measured("duty meter", displayed(bench, bench.state(situation)))


def _display_off(bench: Bench) -> Told:
    return _displayed(bench, bench.switched_off)


def _display_cold(bench: Bench) -> Told:
    return _displayed(bench, bench.raised)


def _frequency(bench: Bench) -> Told:
    """Without edges a meter finds nothing to count; a technician knows that and reports no figure."""
    duty = bench.state(bench.raised).duty
    if not bench.shop.duty_meter or duty < NO_EDGES or duty > 1.0 - NO_EDGES:
        return None
    return Measured("frequency meter", bench.vehicle.electrics.frequency_hz)


_REASONS = {
    "pressure-low": "pressure",
    "pressure-high": "pressure",
    "evaporator-cold": "at-target",
    "off": "request",
}
_SHOWN = ("request", "ambient", "pressure", "coolant", "throttle", "voltage", "low-charge-code")


def _command_reason(bench: Bench) -> Told:
    """From live data under raised load. A control at its target says so whatever its sensor is worth."""
    if not bench.shop.scan_tool:
        return None
    state = bench.state(bench.raised)
    reason = _REASONS.get(state.reason, state.reason)
    if reason in _SHOWN:
        return reason if bench.sees("reason", 0.93) else "none"
    if state.active_limit == "back-off":
        return "pressure"
    if reason == "at-target" or (state.command_share < 0.9 and not reason):
        return "at-target"
    return "none"


JOB_METERS: Mapping[str, Rule] = MappingProxyType(
    {
        "refrigerant_purity": _purity,
        "contamination": _contamination,
        "sealant_test": _sealant,
        "identifier_sample": _sample,
        "recovered_charge": _recovered,
        "recharged_to_label": _recharged,
        "oil_drained": _oil,
        "evaporator_sensor": _sensor("evaporator_sensor", "scan temperature"),
        "sensor_in_ice": _in_ice,
        "ambient_sensor": _sensor("ambient_sensor", "scan temperature"),
        "cabin_sensor": _sensor("cabin_sensor", "scan temperature"),
        "pressure_sensor": _sensor("pressure_sensor", "scan pressure"),
        "solenoid_resistance": _solenoid_resistance,
        "lead_resistance": _lead_resistance,
        "coil_temperature": _coil_temperature,
        "solenoid_to_case": _to_case,
        "clutch_supply": _clutch_supply,
        "clutch_commanded": _clutch_commanded,
        "clutch_coil_resistance": _clutch_coil,
        "cut_out_switches": _cut_outs,
        "display_ac_off": _display_off,
        "display_max_cold": _display_cold,
        "solenoid_frequency": _frequency,
        "command_reason": _command_reason,
        "ac_fuse": lambda bench: "blown" if bench.happens("fuse", 0.01) else "good",
    }
)
