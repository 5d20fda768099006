"""Settling a vehicle: the one call that gives the true state for given effects and situation."""

from __future__ import annotations

from engine.physics.atmosphere import SEA_LEVEL_PA
from engine.vehicle.by_stroke import ByStroke
from engine.vehicle.cabin import Air, Intake
from engine.vehicle.circuit import Circuit
from engine.vehicle.condenser import Face
from engine.vehicle.controller import Limits, refusal, running_limits, wanted_air
from engine.vehicle.cycling import Band, cycled, holding, opens, switched, switching_band
from engine.vehicle.design import Vehicle
from engine.vehicle.electrics import largest_share, signal, wire
from engine.vehicle.evaporator import Coil, air_flow
from engine.vehicle.fault_effects import Effects
from engine.vehicle.joint import Joint
from engine.vehicle.oil import boiling_factor, condensing_factor
from engine.vehicle.parts.machine import ControlValve
from engine.vehicle.report import Scene, resting, running
from engine.vehicle.rest import at_rest, resting_temperature
from engine.vehicle.settling import Settling
from engine.vehicle.situation import Situation, check_envelope
from engine.vehicle.state import State
from engine.vehicle.valve_control import share_needed

__all__ = ["settle"]

_CABIN_TOLERANCE_K = 0.05
_CABIN_PASSES = 8
_LARGEST_ECHO = 0.8  # of a change of cabin air in what the vents make of it; beyond, no straight line
_AIR_REFERENCE_K = 293.15
_LEAST_HELD = 0.03  # smallest share of time on that a cycle is worked out for


def settle(vehicle: Vehicle, effects: Effects, situation: Situation) -> State:
    """The settled state. Raises OutsideEnvelope; a car locked out is a State with a reason."""
    check_envelope(situation)
    scene = _scene(vehicle, effects, situation)
    if situation.engine_speed == 0.0:
        return _at_rest(scene, "engine-off")
    static = at_rest(vehicle, effects, situation.ambient_k)
    reason = refusal(vehicle, effects, situation, static.gauge(situation.atmosphere_pa))
    if effects.drive_broken or effects.shaft_locked:
        return _at_rest(scene, "drive", asked=not reason)
    if vehicle.compressor.clutch and (reason or effects.clutch_open):
        return _at_rest(scene, reason or "clutch", asked=not reason)
    state = _settled(scene, reason)
    band = switching_band(scene)
    if band is None:
        return cycled(scene, state, _at_rest(scene, "cycling"))
    return _switched(scene, state, band) if state.running and opens(band, state) else state


def _switched(scene: Scene, on: State, band: Band) -> State:
    """The cycle about the state that holds the middle of the switch's band."""
    valve = scene.vehicle.valve
    if band.by_pressure:
        held = _pumping(scene, "", Limits(_LEAST_HELD, 1.0, internal=True), holding(band, scene, valve))
    else:
        held = _pumping(scene, "", Limits(_LEAST_HELD, 1.0, target_k=band.middle_k))
    return switched(band, scene, on, held) if held.running else on


def _scene(vehicle: Vehicle, effects: Effects, situation: Situation) -> Scene:
    s = situation
    density = s.atmosphere_pa / SEA_LEVEL_PA * _AIR_REFERENCE_K / s.ambient_k
    frost = s.frost_m + effects.frost_m
    air = air_flow(vehicle.evaporator, s.blower, effects.evaporator_airflow, frost, density)
    face = Face(
        vehicle.condenser,
        s.ambient_k,
        density,
        fan=effects.condenser_fan,
        airflow=effects.condenser_airflow,
        front_air_m_s=s.front_air_m_s,
        hot_share=effects.hot_air_share,
        area=effects.condenser_area * condensing_factor(effects),
        wetted=s.condenser_wetted,
    )
    over = (
        vehicle.electrics.coil_over_ambient_k
        if s.engine_speed > 0.0
        else resting_temperature(s) - s.ambient_k
    )
    on = wire(vehicle, effects, s, s.ambient_k + over)
    return Scene(vehicle, effects, s, Intake(vehicle.cabin, effects, s), on, face, air)


def _at_rest(scene: Scene, reason: str, asked: bool = False) -> State:
    """Not pumping: the pressure of the coldest place; a running engine keeps that near ambient."""
    s = scene.situation
    kelvin = resting_temperature(s) if s.engine_speed == 0.0 else s.ambient_k
    on = signal(scene.vehicle, scene.effects, scene.wire, 1.0 if asked else 0.0, asked)
    rest = at_rest(scene.vehicle, scene.effects, kelvin)
    return resting(scene, rest, scene.intake.start, on, 1.0 if asked else 0.0, reason)


def _settled(scene: Scene, reason: str) -> State:
    """A turning compressor, asked for cooling (no `reason`) or not; cut-outs take the asking back."""
    state = _pumping(scene, reason)
    part = scene.vehicle.controller
    if reason or state.pressure_sensor < part.cut_out_high_pa:
        return state
    if scene.vehicle.compressor.clutch:
        return _at_rest(scene, "pressure-high")
    return _pumping(scene, "pressure-high")


def _pumping(
    scene: Scene, reason: str, limits: Limits | None = None, valve: ControlValve | None = None
) -> State:
    """Circuit and cabin together: the cabin's air is what the vents have made of it.

    `limits` and `valve` take the place of the car's own.
    """
    vehicle, effects, s = scene.vehicle, scene.effects, scene.situation
    coil = Coil(vehicle.evaporator, scene.air, scene.frost_m, s.atmosphere_pa, boiling_factor(effects))
    circuit = Circuit(vehicle, effects, s, coil, scene.face)
    share_high = largest_share(vehicle, effects, scene.wire)
    limits = limits or running_limits(vehicle, effects, s, share_high, not reason)
    settling = Settling(circuit, limits, valve or vehicle.valve)
    cabin, last = scene.intake.start, None
    guess = min(cabin.kelvin - 8.0, 280.15)
    for _ in range(_CABIN_PASSES):
        drawn = scene.intake.drawn(cabin)
        coil.breathe(drawn.kelvin, drawn.ratio)
        active, exact = _solved(settling, guess)
        guess = circuit.coil.surface_k
        if not scene.intake.recirculates:
            break
        air_k, ratio, _ = circuit.air_off()
        made = scene.intake.cabin(Air(air_k, ratio), coil.air)
        if abs(made.kelvin - cabin.kelvin) < _CABIN_TOLERANCE_K:
            break
        cabin, last = _next_cabin(cabin, made, last), (cabin, made)
    if circuit.too_little or not circuit.flows:
        return _at_rest(scene, reason or "pressure-low")
    return _written(scene, circuit, cabin, limits, active, reason, exact)


def _next_cabin(assumed: Air, made: Air, last: tuple[Air, Air] | None) -> Air:
    """The cabin air to assume next: what the vents made of the last, led on along the line of two tries."""
    if last is None:
        return made
    before, before_made = last
    moved, answered = assumed.kelvin - before.kelvin, made.kelvin - before_made.kelvin
    share = answered / moved if moved else 0.0
    lead = 1.0 / (1.0 - share) if share < _LARGEST_ECHO else 1.0
    return Air(
        assumed.kelvin + lead * (made.kelvin - assumed.kelvin),
        max(assumed.ratio + lead * (made.ratio - assumed.ratio), 1e-4),
    )


def _solved(settling: Settling, guess_k: float) -> tuple[str, bool]:
    """(limit that holds, whether the state is the only one): the quick way, the bracketed, the sure one."""
    circuit = settling.circuit
    active = Joint(settling).solve(guess_k)
    if active is not None:
        return active, True
    circuit.start_afresh()
    active = settling.solve(guess_k)
    if settling.settled or circuit.too_little:
        return active, True
    active = ByStroke(circuit, settling.limits, settling.beyond).solve()
    if active is not None:
        return active, True
    return settling.settle_warm(), False


def _written(
    scene: Scene, circuit: Circuit, cabin: Air, limits: Limits, active: str, reason: str, exact: bool
) -> State:
    share = _share(scene, circuit, active)
    asked = not reason and scene.vehicle.compressor.control == "solenoid"
    on = signal(scene.vehicle, scene.effects, scene.wire, share, asked)
    if asked and share == 0.0 and scene.situation.command is None:
        reason = "at-target"
    stroke = circuit.stroke_needed
    if exact:
        stroke = min(max(stroke, limits.stroke_low), limits.stroke_high)
    return running(
        scene,
        circuit,
        cabin,
        on,
        share if asked else 0.0,
        _named(scene, active, share),
        reason,
        stroke,
        exact,
    )


def _share(scene: Scene, circuit: Circuit, active: str) -> float:
    """What the control has come to ask: it goes on to a limit while its target is not met."""
    command = scene.situation.command
    if command is not None:
        return 1.0 if command == "maximum" else 0.0
    if active in ("target", "back-off"):
        return min(max(share_needed(scene.vehicle.valve, circuit), 0.0), 1.0)
    wanted = wanted_air(scene.vehicle, scene.effects, scene.situation)
    return 1.0 if active in ("stroke", "ceiling") or circuit.air_off()[0] > wanted else 0.0


def _named(scene: Scene, active: str, share: float) -> str:
    effects, control = scene.effects, scene.vehicle.compressor.control
    if control == "fixed":
        return "fixed"
    if effects.stroke_high < 1.0 and share > 0.0 and active in ("stroke", "minimum"):
        return "stuck-low"
    if active == "minimum" and effects.stroke_low > scene.vehicle.compressor.smallest_stroke:
        return "stuck-high"
    return active
