"""How sure a finding is, in words that claim no more than the weighing gives."""

from __future__ import annotations

from collections.abc import Callable

from engine.flow.model import INCONCLUSIVE
from engine.job.state import Conclusion


def percent(probability: float) -> str:
    """`74 %`; never 0 or 100, which no weighing of signs gives."""
    if probability >= 0.995:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{probability * 100:.0f} %"


def odds(factor: float) -> str:
    """A sign's factor: 12 is `12 to 1`, 0.2 is `1 to 5`."""
    return f"{factor:.3g} to 1" if factor >= 1 else f"1 to {1 / factor:.3g}"


def certainty(conclusion: Conclusion, step_title: Callable[[str], str]) -> str:
    """A proof by a step (told by its title), a probability, or nothing where the finding is open."""
    if conclusion.proved_by is not None:
        return f"proved by: {step_title(conclusion.proved_by)}"
    if conclusion.finding == INCONCLUSIVE or not conclusion.ranked:
        return ""
    return f"probability {percent(conclusion.ranked[0].probability)}"
