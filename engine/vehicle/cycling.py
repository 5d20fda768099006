"""Cars that cycle: a clutch that opens when the evaporator is cold and closes when it has warmed.

The on-phase is the state the running circuit settles at; while off both sides come together. What a gauge
averages follows from the share of time on, which is what brings the air to the middle of the cycling band.
"""

from __future__ import annotations

from dataclasses import replace

from engine.vehicle.report import Scene
from engine.vehicle.state import State

_LEAST_SHARE = 0.05


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
