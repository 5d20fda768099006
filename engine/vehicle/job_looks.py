"""Readings of the job for which a person looks, feels or listens: with chances to miss what is there.

What there is to see follows from the simulated states; the chances of seeing it are our assumption.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from engine.physics.atmosphere import SEA_LEVEL_PA
from engine.vehicle.bench import Bench, Measured, Told
from engine.vehicle.fault_effects import Effects
from engine.vehicle.job_facts import filter_blocked
from engine.vehicle.state import State

__all__ = ["JOB_LOOKS"]

Rule = Callable[[Bench], Told]

_FROST_M = 0.08e-3  # frost on the coil that a lamp finds
_ICE_K = 271.65  # surface on which water freezes visibly within ten minutes
_STEP_K = 4.0  # drop along a line that a probe finds for certain
_INSIDE_PA = 80e3  # loss inside the condenser that makes a cold step on it
_SUCTION_PA = 30e3  # the same in the suction line
# A rush of gas or an idler is taken for the pump now and then. The procedure has one listen again without
# A/C before the job stops at a noise, and that settles nearly all of it: one sound pump in 2000 stays noisy.
_MISHEARD, _HEARD_AGAIN = 0.005, 0.90
_KIND_HEARD = 0.9  # squeal or knock told rightly
_LOUDER = 0.6  # of the pumps that passed for quiet at first, those that work makes plain
_ROUGH_FELT = 0.6  # of pumps that knock or grind
_HEATS_W = 100.0  # lost at the drive: a pulley of a kilogram gains 10 K in a minute and a half
_NO_FAULT_SEEN = 0.01  # a look that finds something where nothing is


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _misheard(bench: Bench) -> bool:
    """Whether a noise that is not the pump's outlasts the second listening."""
    return bench.happens("noise:none", _MISHEARD) and not bench.sees("noise:again", _HEARD_AGAIN)


def _noise(bench: Bench) -> Told:
    if bench.effects.noisy:
        return _yes(bench.sees("noise", 0.92))
    squeals = bench.effects.drive_slip > 0.2 and bench.sees("squeal", 0.25)
    knocks = bench.effects.oil_factor > 2.0 and bench.sees("knock", 0.12)
    return _yes(squeals or knocks or _misheard(bench))


def _noise_kind(bench: Bench) -> Told:
    """By ear; a growl and a squeal are taken for each other now and then."""
    e = bench.effects
    if e.noisy or e.oil_factor > 2.0:
        return "knock" if bench.sees("noise:kind", _KIND_HEARD) else "squeal"
    if e.drive_slip > 0.2:
        return "squeal" if bench.sees("noise:kind", _KIND_HEARD) else "knock"
    return "rush"


def _noise_under_load(bench: Bench) -> Told:
    """Listened to once more with the load raised: what was heard at first, and some of what was not."""
    if not bench.state(bench.raised).running:
        return None
    e = bench.effects
    hidden = e.noisy and bench.sees("noise:loaded", _LOUDER)
    squeals = e.drive_slip > 0.2 and bench.sees("squeal:loaded", 0.2)
    knocks = e.oil_factor > 2.0 and bench.sees("knock:loaded", 0.1)
    if not (hidden or squeals or knocks or _noise(bench) == "yes"):
        return "quiet"
    kind = _noise_kind(bench)
    return "quiet" if kind == "rush" else kind


def _shaft(bench: Bench) -> Told:
    return _yes(not bench.effects.shaft_locked)


def _metal(bench: Bench) -> Told:
    """Seen where a look into a port or screen can be had without opening the circuit."""
    if not bench.happens("metal:look", 0.4):
        return None
    return _yes(bench.effects.metal_in_oil and bench.sees("metal", 0.8))


def _shaft_feel(bench: Bench) -> Told:
    """A worn bearing is felt more often than not; a sound shaft seldom passes for rough."""
    rough = bench.sees("rough", _ROUGH_FELT) if bench.effects.noisy else bench.happens("rough:none", 0.04)
    return "rough" if rough or bench.effects.shaft_locked else "even"


def _oil_look(bench: Bench) -> Told:
    """Once it is drained, metal in oil is hard to miss; dark oil alone says little."""
    if not bench.shop.certified:
        return None
    if bench.effects.metal_in_oil and bench.sees("oil:metal", 0.9):
        return "metal"
    return "dark" if bench.happens("oil:dark", 0.35 if bench.effects.noisy else 0.1) else "clear"


def _clutch_engaged(bench: Bench) -> Told:
    if bench.vehicle.clutchless:
        return None
    state = bench.state(bench.moderate)
    return _yes(state.running or state.reason == "drive")


def _hub_turns(bench: Bench) -> Told:
    return _yes(bench.state(bench.moderate).compressor_speed > 0.0)


def _hub_keeps_speed(bench: Bench) -> Told:
    if not bench.shop.tachometer:
        return None
    state = bench.state(bench.raised)
    lag = 1.0 - state.compressor_speed / state.pulley_speed
    return _yes(not (lag > 0.06 or (lag > 0.02 and bench.sees("creep", 0.85))))


def _drive_heat(bench: Bench) -> Told:
    """What slipping loses heats belt or clutch; a stiff pump or a dry bearing warms them now and then."""
    state = bench.state(bench.raised)
    slipping = state.compressor_speed > 0.0 and bench.effects.drive_slip > 0.0
    lost_w = state.shaft_w * (state.pulley_speed / state.compressor_speed - 1.0) if slipping else 0.0
    if lost_w > _HEATS_W and bench.sees("drive heat", 0.92):
        return "hot"
    stiff = bench.effects.friction_factor > 2.0
    return "hot" if bench.happens("drive heat:none", 0.25 if stiff else 0.03) else "alike"


def _fan(bench: Bench) -> Told:
    state = bench.state(bench.moderate)
    if not state.running:
        return "stopped"  # nothing asks for it
    speed = bench.effects.condenser_fan
    if speed < 0.12:
        return "stopped" if bench.sees("fan", 0.98) else None
    if speed < 0.75:
        return "slow" if bench.sees("fan:slow", 0.85 if speed < 0.6 else 0.6) else "runs"
    return "runs"


def _fan_commanded(bench: Bench) -> Told:
    if not bench.shop.scan_tool and not bench.shop.duty_meter:
        return None
    return _yes(bench.state(bench.moderate).running)


def _face(bench: Bench) -> Told:
    """Fluff in the gap behind the face hides from a hasty look."""
    left = bench.effects.condenser_airflow
    seen = bench.sees("face", 0.92)
    if left < 0.5:
        return "blocked" if seen else "dirty"
    if left < 0.85:
        return "dirty" if seen else "clear"
    return "dirty" if bench.happens("face:any", 0.10) else "clear"


def _guides(bench: Bench) -> Told:
    """Light past the condenser shows a gap; an old foam strip is taken for one now and then."""
    if bench.effects.hot_air_share > 0.05:
        return "missing" if bench.sees("guides", 0.8) else "in-place"
    return "missing" if bench.happens("guides:any", 0.02) else "in-place"


def _fan_by_hand(bench: Bench) -> Told:
    """Worn bearings are felt; a fan whose feed or control is at fault turns freely."""
    worn = bench.effects.condenser_fan < 0.95 and bench.happens("fan:bearing", 0.4)
    return "stiff" if worn and bench.sees("fan:felt", 0.9) else "free"


def _blower(bench: Bench) -> Told:
    frost = bench.state(bench.raised).frost_m / bench.vehicle.evaporator.frost_closes_m
    air = bench.effects.evaporator_airflow
    if frost > 0.10 and bench.sees("fading", 0.95 if frost > 0.2 else 0.75):
        return "fading" if air > 0.6 or bench.happens("fading:weak", 0.8) else "weak"
    if air < 0.88 and bench.sees("weak", 0.96 if air < 0.75 else 0.8):
        return "weak"
    return "weak" if bench.happens("weak:none", _NO_FAULT_SEEN) else "strong"


def _drop_in_line(state: State) -> float:
    return state.condenser_outlet_temperature - state.liquid_line_temperature


def _suction_loss(bench: Bench, state: State) -> float:
    """Extra loss in the suction line, Pa; vapour at about 10 kg/m3 per 0.2 MPa."""
    low = (state.low_side + bench.weather.atmosphere_pa) / (2.0 * SEA_LEVEL_PA)
    return bench.effects.suction_resistance * state.mass_flow**2 / max(low, 0.2)


def _throttles(effects: Effects) -> bool:
    """Whether the expansion device holds back enough to be cold at its inlet."""
    return effects.opening_high < 0.6 or effects.moisture_ice > 0.4


def _cold_spot(bench: Bench) -> Told:
    state, e = bench.state(bench.raised), bench.effects
    found = []
    inside = e.condenser_resistance * state.mass_flow**2 > _INSIDE_PA or e.condenser_area < 0.7
    if e.condenser_resistance > 0.0 and inside and bench.sees("step:condenser", 0.7):
        found.append("condenser")
    exchanged = bench.vehicle.lines.exchanger_effectiveness > 0.0
    throttled = e.liquid_restriction_at != "" and e.liquid_resistance * state.mass_flow**2 > 50e3
    if throttled and (_drop_in_line(state) > _STEP_K or exchanged) and bench.sees("step:line", 0.9):
        found.append(e.liquid_restriction_at)
    cold = _throttles(e) and state.evaporator_superheat > 10.0 and bench.sees("step:valve", 0.65)
    if cold or (not found and bench.happens("step:none", _NO_FAULT_SEEN)):
        found.append("valve-inlet")
    if _suction_loss(bench, state) > _SUCTION_PA and bench.sees("step:suction", 0.75):
        found.append("suction-line")
    return ", ".join(found) or "none"


def _frost(bench: Bench) -> Told:
    state, e = bench.state(bench.raised), bench.effects
    coil = state.frost_m > _FROST_M and bench.sees("frost:coil", 0.85)
    if not state.running:
        return "evaporator" if coil else "none"
    places = {
        "drier": e.liquid_resistance > 0.0
        and state.liquid_line_temperature < _ICE_K
        and bench.sees("frost:line", 0.85),
        "valve-inlet": _throttles(e) and state.evaporating_k < 268.15 and bench.sees("frost:valve", 0.6),
        "evaporator": coil,
        "suction-line": state.suction_line_temperature < _ICE_K and bench.sees("frost:suction", 0.8),
    }
    found = [place for place, is_seen in places.items() if is_seen]
    if not found and bench.state(bench.lowered).evaporating_k < _ICE_K - 3.0:
        return "evaporator" if bench.sees("frost:cold coil", 0.3) else "none"
    return ", ".join(found) or "none"


def _steadiness(bench: Bench) -> Told:
    """A valve held by ice, or one that hunts; a clutch that cycles moves the needle too."""
    e = bench.effects
    odds = 0.04
    if e.moisture_ice > 0.2:
        odds = 0.75
    elif e.opening_low > 0.0 or e.opening_high < 0.7:
        odds = 0.2
    elif _cycles_by_control(bench):
        odds = 0.8
    return "swings" if bench.happens("steadiness", odds) else "steady"


def _cycles_by_control(bench: Bench) -> bool:
    """A switch that cycles the clutch moves the needle in step, and nobody takes that for unsteady."""
    return bench.vehicle.controller.cycling_by == "sensor" and bench.state(bench.raised).cycling


def _clutch_gap(bench: Bench) -> Told:
    """By feeler, engine off; a worn or glazed face can be told from the side only now and then."""
    if bench.vehicle.clutchless:
        return None
    if bench.effects.clutch_gap_wide:
        return "wide" if bench.sees("gap", 0.93) else "right"
    if bench.way("clutch-slips") == "face" and bench.sees("face of the clutch", 0.6):
        return "burnt"
    return "wide" if bench.happens("gap:none", 0.02) else "right"


def _better_without(bench: Bench) -> Told:
    return _yes(filter_blocked(bench) and bench.sees("filter out", 0.95))


def _blower_speed(bench: Bench) -> Told:
    """By ear at the housing; a weak motor runs slow or has lost some of its steps."""
    if bench.way("evaporator-airflow") == "blower" and bench.sees("blower", 0.85):
        return "slow" if bench.happens("blower:slow", 0.7) else "missing"
    return "slow" if bench.happens("blower:none", _NO_FAULT_SEEN) else "full"


def _coil_face(bench: Bench) -> Told:
    """Seen where a slot lets a camera in."""
    if not bench.happens("coil face:reached", 0.7):
        return None
    matted = bench.way("evaporator-airflow") == "coil-face" and bench.sees("coil face", 0.85)
    return "dirty" if matted or bench.happens("coil face:any", 0.05) else "clean"


def _screens(bench: Bench) -> Told:
    """Only an opened circuit shows them."""
    return None


def _vent_split(bench: Bench) -> Told:
    return Measured("vent difference", bench.state(bench.moderate).vent_split)


def _doors(bench: Bench) -> Told:
    follow = bench.effects.doors_follow and not bench.effects.intake_stuck
    return _yes(follow or not bench.sees("doors", 0.92))


def _leak(bench: Bench) -> Told:
    """A detector answers to solvents and warm grease too, now and then even twice."""
    leaking = bench.has("undercharge") or bench.has("system-empty")
    return _yes(bench.sees("leak", 0.75) if leaking else bench.happens("leak:none", 0.02))


JOB_LOOKS: Mapping[str, Rule] = MappingProxyType(
    {
        "compressor_noise": _noise,
        "noise_kind": _noise_kind,
        "noise_under_load": _noise_under_load,
        "shaft_turns_by_hand": _shaft,
        "clutch_gap": _clutch_gap,
        "metal_in_oil": _metal,
        "shaft_feel": _shaft_feel,
        "oil_look": _oil_look,
        "clutch_engaged": _clutch_engaged,
        "hub_turns": _hub_turns,
        "hub_keeps_speed": _hub_keeps_speed,
        "drive_heat": _drive_heat,
        "condenser_fan": _fan,
        "fan_commanded": _fan_commanded,
        "condenser_face": _face,
        "air_guides": _guides,
        "fan_by_hand": _fan_by_hand,
        "blower_flow": _blower,
        "flow_better_without_filter": _better_without,
        "blower_speed": _blower_speed,
        "coil_face": _coil_face,
        "cold_spot": _cold_spot,
        "frost": _frost,
        "low_side_steadiness": _steadiness,
        "valve_screens": _screens,
        "vent_split": _vent_split,
        "doors_follow": _doors,
        "leak_found": _leak,
        "leak_method": lambda _: "electronic-detector",
    }
)
