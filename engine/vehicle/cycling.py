"""Cars that cycle: a clutch that opens when the evaporator is cold and closes when it has warmed.

Where a control unit does it, the on-phase is the state the running circuit settles at, and a gauge's average
follows from the share of time on, which brings the air to the middle of the band. Where a pressure switch or
a thermostat does it, the circuit never settles while on: what is slow (lines, air, heat) is that of a pump
that runs the share of time which holds the middle of the band, and the gauges swing about it.

Times: while off the coil warms towards the air that blows on it, by a time constant that its metal and the
liquid in it give (a coil short of liquid swings fast); the time on follows from the share. Our assumption,
chosen for what is common practice: some 5 to 40 s on, 5 to 20 s off, faster with less charge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from engine.vehicle.fluid.table import fluid
from engine.vehicle.parts.machine import ControlValve
from engine.vehicle.report import Scene
from engine.vehicle.state import State

__all__ = ["Band", "cycled", "holding", "opens", "switched", "switching_band"]

_LEAST_SHARE = 0.05
_MIDDLE = 0.45  # where the average lies between the two ends: it falls fast first and rises slowly last
_WARMING_S = 17.0  # of a filled coil at the reference air
_DRY_SHARE = 0.3  # of that for the metal alone
_LAG_S = 9.0  # of a thermostat's own bulb
_SWING_S = 20.0  # by which the high side follows the clutch
_LEAST_WARMING_K = 2.0


@dataclass(frozen=True, slots=True)
class Band:
    """Between what a cycling switch opens and closes, K: boiling (`by_pressure`) or air off the coil."""

    open_k: float
    close_k: float
    by_pressure: bool

    @property
    def middle_k(self) -> float:
        return self.open_k + _MIDDLE * (self.close_k - self.open_k)


def switching_band(scene: Scene) -> Band | None:
    """The band of the car's switch as it is, with what is wrong with it; None without such a switch."""
    part, shift = scene.vehicle.controller, scene.effects.cycling_switch_k
    if part.cycling_by == "thermostat":
        low = part.thermostat_open_k + shift
        return Band(low, low + part.thermostat_band_k, False)
    if part.cycling_by == "pressure":
        fl, around = fluid(scene.vehicle.refrigerant), scene.situation.atmosphere_pa
        factor = scene.effects.saturation_factor
        ends = (part.switch_open_pa, part.switch_close_pa)
        low, high = (fl.saturation((end + around) / factor) + shift for end in ends)
        return Band(low, high, True)
    return None


def opens(band: Band, on: State) -> bool:
    """Whether the running circuit would get cold enough for the switch."""
    return (on.evaporating_k if band.by_pressure else on.coil_air_temperature) < band.open_k


def holding(band: Band, scene: Scene, valve: ControlValve) -> ControlValve:
    """A valve that holds the middle of a pressure switch's band."""
    middle_pa = fluid(scene.vehicle.refrigerant).pressure(band.middle_k)
    return replace(valve, internal_suction_pa=middle_pa, internal_per_discharge=0.0)


def switched(band: Band, scene: Scene, on: State, held: State) -> State:
    """`held` at the middle of the band as the cycle it stands for; `on` has the clutch closed for good."""
    share = min(max(held.stroke / on.stroke, _LEAST_SHARE), 0.98)
    off_s = _off_seconds(band, scene, held)
    on_s = off_s * share / (1.0 - share)
    swing = 1.0 - math.exp(-on_s / _SWING_S)
    high = held.high_side + max(on.high_side - held.high_side, 0.0) * swing
    low, low_close = _low_sides(band, scene, on, held)
    return replace(
        held,
        active_limit=on.active_limit,
        cycling=True,
        on_share=share,
        on_seconds=on_s,
        off_seconds=off_s,
        low_side=low,
        low_side_at_close=low_close,
        high_side=high,
        average_low_side=held.low_side,
        average_high_side=held.high_side,
        pressure_sensor=high + scene.effects.pressure_sensor_pa,
    )


def _off_seconds(band: Band, scene: Scene, held: State) -> float:
    part = scene.vehicle.evaporator
    air = max(scene.air / part.reference_air_kg_s, 0.05)
    filled = _DRY_SHARE + (1.0 - _DRY_SHARE) * held.evaporator_fill
    constant: float = _WARMING_S * filled / air**part.conductance_power
    warm = held.intake_temperature
    left = max(warm - band.close_k, _LEAST_WARMING_K)
    seconds = constant * math.log(max(warm - band.open_k, left + 0.5) / left)
    return seconds if band.by_pressure else seconds + _LAG_S


def _low_sides(band: Band, scene: Scene, on: State, held: State) -> tuple[float, float]:
    """Low side (Pa gauge) as the clutch opens and as it closes."""
    fl, around = fluid(scene.vehicle.refrigerant), scene.situation.atmosphere_pa
    factor = scene.effects.saturation_factor

    def gauge(kelvin: float) -> float:
        return fl.pressure(kelvin) * factor - around

    if band.by_pressure:
        return gauge(band.open_k), gauge(band.close_k)
    # with the full flow the coil boils as far below its air as in the state that runs on
    below = on.coil_air_temperature - on.evaporating_k
    low = max(gauge(band.open_k - below), on.low_side)
    return min(low, held.low_side), gauge(band.close_k)


def cycled(scene: Scene, on: State, off: State) -> State:
    """`on` itself, or with its share of time and averages if the evaporator sensor would cut it out."""
    part = scene.vehicle.controller
    if not scene.vehicle.compressor.clutch or not on.running or on.reason not in ("", "at-target"):
        return on
    if on.evaporator_sensor >= part.freeze_cut_out_k:
        return on
    middle_k = part.freeze_cut_out_k + 0.5 * part.cycling_band_k
    seen_intake_k = on.intake_temperature + scene.effects.evaporator_sensor_k
    reach = seen_intake_k - on.evaporator_sensor
    share = min(max((seen_intake_k - middle_k) / reach if reach > 0.0 else 0.0, _LEAST_SHARE), 1.0)
    return replace(
        on,
        cycling=True,
        on_share=share,
        average_low_side=share * on.low_side + (1.0 - share) * off.low_side,
        average_high_side=share * on.high_side + (1.0 - share) * off.high_side,
    )
