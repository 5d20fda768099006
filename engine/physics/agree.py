"""Whether a table made anew is the one that ships: for the commands that make tables."""

from __future__ import annotations

import math
from typing import Any


def agree(made: Any, shipped: Any, *, rel_tol: float = 1e-9, abs_tol: float) -> bool:
    """Equal in shape, words and whole numbers, and in each float within either tolerance.

    Tolerances are for what differs between processors, or for what a table promises, never for old values.
    """
    if isinstance(made, dict) and isinstance(shipped, dict):
        keys = made.keys() == shipped.keys()
        return keys and all(agree(made[key], shipped[key], rel_tol=rel_tol, abs_tol=abs_tol) for key in made)
    if isinstance(made, list) and isinstance(shipped, list):
        pairs = zip(made, shipped, strict=False)
        return len(made) == len(shipped) and all(
            agree(one, other, rel_tol=rel_tol, abs_tol=abs_tol) for one, other in pairs
        )
    if isinstance(made, float) and isinstance(shipped, int | float):
        return math.isclose(made, shipped, rel_tol=rel_tol, abs_tol=abs_tol)
    return bool(made == shipped)
