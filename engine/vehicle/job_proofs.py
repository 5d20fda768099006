"""Readings of the job that come from changing something and watching: unplugged, chilled, rested, off."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from engine.physics.units import PSI
from engine.vehicle.bench import Bench, Measured, Told
from engine.vehicle.loop import settle

__all__ = ["JOB_PROOFS"]

Rule = Callable[[Bench], Told]


# What counts as an answer to somebody at a gauge; our assumption.
_MOVES_PA = 4.0 * PSI  # a low side that moved
_CHILLS_K = 5.0  # a suction line that turned clearly colder under a probe
_COLLAPSED = 0.55  # sides over those under raised load, below which they have come together
_HEAT_K = 4.0  # vent over intake: warm air
_PINCHED_K = 2.5  # by which a vent falls clearly with the heater shut
_DRIVEN_A, _DRIVEN = 0.05, 0.03
_AGREE_PA = 20.0 * PSI  # a clutchless pump keeps a small difference


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _unplugged(bench: Bench) -> Told:
    if bench.vehicle.compressor.control != "solenoid":
        return None
    left = bench.state(replace(bench.moderate, unplugged=True))
    apart, before = left.high_side - left.low_side, bench.state(bench.raised)
    return _yes(apart < max(_COLLAPSED * (before.high_side - before.low_side), _AGREE_PA))


def _moves_with_command(bench: Bench) -> Told:
    if not bench.shop.scan_tool:
        return None
    least = bench.state(replace(bench.raised, command="minimum"))
    most = bench.state(replace(bench.raised, command="maximum"))
    return _yes(least.low_side - most.low_side > _MOVES_PA)


def _head_reached(bench: Bench) -> bool:
    """Some power heads sit behind the dashboard."""
    return not bench.vehicle.orifice and bench.happens("chill:reached", 0.92)


def _chilled(bench: Bench) -> Told:
    if not _head_reached(bench):
        return None
    falls = (
        bench.state(bench.raised).low_side - bench.state(replace(bench.raised, valve_head="chilled")).low_side
    )
    return _yes(falls > _MOVES_PA)


def _warmed(bench: Bench) -> Told:
    """Warmth opens a valve that can open, melts ice in it: the low side rises or the suction line chills."""
    if not _head_reached(bench):
        return None
    now = bench.state(bench.raised)
    warm = bench.state(replace(bench.raised, valve_head="warmed", ice_in_valve=0.0))
    rises = warm.low_side - now.low_side > _MOVES_PA
    chills = now.suction_line_temperature - warm.suction_line_temperature > _CHILLS_K
    return _yes(bench.sees("warmed", 0.95) if rises or chills else bench.happens("warmed:none", 0.03))


def _recovers(bench: Bench) -> Told:
    """Ice at the valve and on the coil melts in a rest; dirt does not."""
    now, e = bench.state(bench.raised), bench.effects
    rested = bench.state(replace(bench.raised, ice_in_valve=0.0)) if e.moisture_ice > 0.0 else now
    thawed = abs(rested.low_side - now.low_side) > 0.75 * _MOVES_PA
    if thawed:
        return _yes(bench.sees("rested", 0.95))
    return _yes(now.frost_m > 0.1e-3 and bench.sees("rested:frost", 0.8))


def _driven_when_off(bench: Bench) -> Told:
    if not (bench.shop.scan_tool or bench.shop.duty_meter or bench.shop.current_clamp):
        return None
    off = bench.state(bench.switched_off)
    return _yes(off.current > _DRIVEN_A or off.duty > _DRIVEN)


def _high_falls(bench: Bench) -> Told:
    """With the switch a stuck pump unloads nothing; a clutch always does."""
    off, on = bench.state(bench.switched_off), bench.state(bench.raised)
    return _yes(off.high_side < 0.8 * on.high_side and off.stroke < 0.3)


def _sides_after(bench: Bench) -> Told:
    off = bench.state(bench.switched_off)
    return "equal" if off.high_side - off.low_side < 1.5 * _AGREE_PA else "apart"


def _equalise_time(bench: Bench) -> Told:
    """Five to ten minutes by a valve, one or two by an orifice tube (common practice)."""
    low, high = (60.0, 120.0) if bench.vehicle.orifice else (300.0, 600.0)
    return Measured("clock", bench.chance("equalise").uniform(low, high))


def _heat(bench: Bench) -> Told:
    off = bench.state(replace(bench.switched_off, intake="fresh"))
    warmest = max(off.vent_left, off.vent_right)
    return _yes(warmest - off.intake_temperature > _HEAT_K)


def _pinched(bench: Bench) -> Told:
    """Without hot coolant the vents are as far over the coil as ducts alone make them."""
    if not bench.happens("heater hose:reached", 0.7):
        return None  # no place for a clamp, or the maker forbids it
    state = bench.state(bench.moderate)
    dry = replace(bench.effects, blend_leak_left=0.0, blend_leak_right=0.0)
    shut = settle(bench.vehicle, dry, bench.moderate)
    fall = max(state.vent_left - shut.vent_left, state.vent_right - shut.vent_right)
    return _yes(fall > _PINCHED_K)


JOB_PROOFS: Mapping[str, Rule] = MappingProxyType(
    {
        "unplugged_collapses": _unplugged,
        "low_moves_with_command": _moves_with_command,
        "bulb_chilled_low_falls": _chilled,
        "valve_warmed_answers": _warmed,
        "recovers_after_rest": _recovers,
        "driven_when_off": _driven_when_off,
        "high_falls_after_stop": _high_falls,
        "decay_sides": _sides_after,
        "equalise_time": _equalise_time,
        "heat_with_ac_off": _heat,
        "heater_hose_pinched": _pinched,
    }
)
