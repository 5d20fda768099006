"""Energy and mass close to 0.1 % at every settled state: healthy, with every fault, and with pairs of faults.

The balances are taken from what the parts do on their own: the condenser's heat from its conductance and
temperatures, the compressor's flow from its stroke, the charge from the contents of the parts.
"""

from __future__ import annotations

import random
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.vehicle.fault_effects import NONE, Effects, combined
from engine.vehicle.loop import settle
from engine.vehicle.state import State
from tests.engine.vehicle.drawing import FAULTS, situation, vehicle

CLOSED = 1e-3
CHARGE_KG = 1e-3
PAIRS = list(combinations(FAULTS, 2))


def assert_closed(state: State) -> None:
    if not state.running:
        assert state.low_side == state.high_side
        assert state.cooling_w == state.mass_flow == 0.0
        return
    assert state.energy_error < CLOSED
    assert state.mass_error < CLOSED
    assert state.stored_w >= 0.0
    assert state.high_side >= state.low_side - 1.0
    if state.exact:
        assert abs(state.inventory_kg - state.charge_kg) < CHARGE_KG


def settled(seed: str, *faults: str) -> State:
    draw = random.Random(seed)
    effects: Effects = NONE
    for fault in faults:
        effects = combined(effects, FAULTS[fault](draw))
    return settle(vehicle(draw), effects, situation(draw))


@pytest.mark.parametrize("part", range(10))
def test_healthy_cars(part: int) -> None:
    for number in range(60):
        state = settled(f"healthy:{part}:{number}")
        assert_closed(state)
        assert state.exact


@pytest.mark.parametrize("fault", FAULTS)
def test_every_fault_alone(fault: str) -> None:
    for number in range(40):
        assert_closed(settled(f"{fault}:{number}", fault))


@pytest.mark.parametrize("first", FAULTS)
def test_every_pair_of_faults(first: str) -> None:
    for pair in PAIRS:
        if pair[0] == first:
            for number in range(2):
                assert_closed(settled(f"{pair}:{number}", *pair))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(
    seed=st.integers(min_value=0, max_value=10**9), faults=st.lists(st.sampled_from(list(FAULTS)), max_size=2)
)
def test_anything_drawn(seed: int, faults: list[str]) -> None:
    assert_closed(settled(f"any:{seed}", *faults))


def test_a_state_without_a_single_answer_is_rare() -> None:
    inexact = sum(not settled(f"rare:{n}", random.Random(n).choice(list(FAULTS))).exact for n in range(600))
    assert inexact <= 6


def test_the_same_question_has_the_same_answer() -> None:
    assert settled("twice", "undercharge") == settled("twice", "undercharge")
