"""Counting outcomes, and how far a share may be trusted."""

import pytest

from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.score import likely_range, score
from tests.engine.vehicle.trial.made import DIRTY, WORN, result, said


def test_counted() -> None:
    counted = score(
        [
            result(0, (), said("no-fault", ("no-fault", 0.9), ("worn", 0.1))),
            result(1, (WORN,), said("dirty", ("dirty", 0.7), ("worn", 0.2))),
            result(2, (DIRTY,), said("worn", ("worn", 0.7), ("no-fault", 0.2), ("dirty", 0.1))),
            result(3, (WORN,), said("inconclusive", ("dirty", 0.5), ("worn", 0.4))),
        ]
    )
    assert counted.vehicles == 4
    assert counted.outcomes == {Outcome.CORRECT: 1, Outcome.MISDIAGNOSED: 2, Outcome.NO_ANSWER: 1}
    assert counted.share(Outcome.MISDIAGNOSED) == 0.5
    assert counted.first_two == 3


def test_nothing_counted_has_no_shares() -> None:
    assert score([]).share(Outcome.CORRECT) is None
    assert score([]).first_two_share is None


@pytest.mark.parametrize(
    ("hits", "of", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_likely_range(hits: int, of: int, low: float, high: float) -> None:
    """Statistics in Medicine 17 (1998) 857, table I, method 3; values from memory."""
    assert likely_range(hits, of) == pytest.approx((low, high), abs=6e-5)
