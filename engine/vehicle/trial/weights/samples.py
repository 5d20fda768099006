"""Training vehicles as arrays: which signs were heard, which findings were open, and which were right."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.job.second import HEALTHY
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import accepted_names
from engine.vehicle.trial.weights.table import Floats

TRUE, FALSE, UNKNOWN = 1, 0, 2
"""As `Result.signs` holds them."""


@dataclass(frozen=True, slots=True)
class Samples:
    """A row a vehicle.

    `heard` has two columns a sign (true, false), `open` and `right` a column a finding. `offset` is the
    logarithm of the share in which each finding was drawn: with it in the place of the flow's prior, what is
    fitted are odds that hold under any prior.
    """

    heard: Floats
    open: NDArray[np.bool_]
    right: NDArray[np.bool_]
    offset: Floats
    truth: tuple[str, ...]


def samples(results: Iterable[Result], findings: Sequence[str]) -> Samples:
    """Of vehicles with at most one fault whose job ended in a ranking that holds the truth."""
    ranked = [result for result in results if len(result.faults) <= 1 and not result.told.proved]
    usable = [one for one in ranked if accepted_names(one.faults) & set(findings) - one.ruled_out]
    truth = tuple(_truth(result) for result in usable)
    heard = heard_of(usable)
    open_ = np.array([[name not in one.ruled_out for name in findings] for one in usable], dtype=bool)
    right = np.array(
        [[name in accepted_names(one.faults) for name in findings] for one in usable], dtype=bool
    )
    drawn = Counter(truth)
    # a finding that was never drawn has no share: half a vehicle keeps the logarithm finite
    offset = np.log(np.array([max(drawn[name], 0.5) for name in findings]) / max(len(usable), 1))
    return Samples(heard, open_, right & open_, offset, truth)


def heard_of(results: Sequence[Result]) -> Floats:
    """A row a vehicle, two columns a sign: it was true, it was false."""
    states = np.frombuffer(b"".join(one.signs for one in results), dtype=np.uint8)
    states = states.reshape(len(results), -1) if results else states.reshape(0, 0)
    heard = np.zeros((len(results), 2 * states.shape[1]))
    heard[:, 0::2] = states == TRUE
    heard[:, 1::2] = states == FALSE
    return heard


def _truth(result: Result) -> str:
    return result.faults[0].finding if result.faults else HEALTHY
