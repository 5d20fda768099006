"""What a duty meter shows on the solenoid's wire, with its leads and its edge.

The valve is on while a supply-switched wire is high, or a ground-switched wire low. Black on ground and red
on
the wire sees the wire; red on the supply sees the wire's opposite; across the coil the meter sees the valve.
"""

from __future__ import annotations

from engine.vehicle.bench import Bench
from engine.vehicle.state import State

__all__ = ["NO_EDGES", "displayed"]

NO_EDGES = 0.005
"""On-share within this of none or all has no edges; the meter then shows 0."""


def displayed(bench: Bench, state: State) -> float:
    """Display as a share 0..1."""
    on = state.duty
    if on < NO_EDGES or on > 1.0 - NO_EDGES:
        return 0.0
    ground = bench.vehicle.electrics.switched_side == "ground"
    seen_high = {
        "wire-to-ground": 1.0 - on if ground else on,
        "wire-to-supply": on if ground else 1.0 - on,
        "across-coil": on,
    }[bench.shop.leads]
    return seen_high if bench.shop.edge == "positive" else 1.0 - seen_high
