"""Weights of graded signs keep the direction that is declared, and move no further than they must."""

import itertools

import numpy as np
import pytest

from engine.vehicle.trial.weights.ramps import FALLS, FREE, RISES, Ramp, direction_of, rising


@pytest.mark.parametrize(
    ("odds", "direction"),
    [
        ((0.2, 1.0, 1.0, 5.0), RISES),
        ((5.0, 0.2), FALLS),
        ((1.0, 5.0, 1.0), FREE),
        ((1.0, 1.0, 1.0), FREE),
    ],
)
def test_the_direction_is_that_of_the_author_s_odds(odds: tuple[float, ...], direction: int) -> None:
    assert direction_of(odds) == direction


def test_what_rises_stays_and_what_falls_becomes_its_mean() -> None:
    steps = np.array([[1.0, 3.0], [2.0, 2.0], [3.0, 1.0]])
    assert rising(steps) == pytest.approx(np.array([[1.0, 2.0], [2.0, 2.0], [3.0, 2.0]]))


def test_no_rising_column_is_nearer() -> None:
    """Against every rising column of a fine grid, for columns drawn by chance."""
    chance = np.random.default_rng(4)
    grid = np.linspace(-1.0, 1.0, 21)
    rising_ones = np.array(list(itertools.combinations_with_replacement(grid, 3)))
    for given in chance.uniform(-1.0, 1.0, (20, 3)):
        ours = rising(given[:, None])[:, 0]
        assert (np.diff(ours) >= -1e-12).all()
        nearest = ((rising_ones - given) ** 2).sum(axis=1).min()
        assert ((ours - given) ** 2).sum() <= nearest + 1e-12


def test_only_the_columns_with_a_direction_move() -> None:
    weights = np.array([[2.0, 2.0, 2.0], [9.0, 9.0, 9.0], [1.0, 1.0, 1.0]])
    Ramp((0, 2), np.array([RISES, FALLS, FREE], dtype=np.int8)).keep(weights)
    assert weights == pytest.approx(np.array([[1.5, 2.0, 2.0], [9.0, 9.0, 9.0], [1.5, 1.0, 1.0]]))
