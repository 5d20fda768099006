"""Where the marks of an axis stand."""

from __future__ import annotations

import math

STEPS = (1.0, 2.0, 5.0)


def linear_marks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from `low` to `high`, at most `most`, a step of 1, 2 or 5 times a power of ten apart."""
    if high <= low or most < 1:
        return []
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(size * power for size in (*STEPS, 10.0) if size * power >= rough * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [place * step for place in range(first, last + 1)][:most]


def log_marks(low: float, high: float) -> list[float]:
    """1, 2 and 5 times the powers of ten from `low` to `high`, both above zero."""
    powers = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    marks = (size * 10.0**power for power in powers for size in STEPS)
    return [mark for mark in marks if low * (1 - 1e-9) <= mark <= high * (1 + 1e-9)]
