"""A thousand walks of the main flow by chance: each ends, warns first, concludes, and resumes alike.

Answers by chance alone mostly end at an early stop, so most walks follow one of the examples (what it lacks
cannot be measured) and leave it by chance, at one reading in five to fifty.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.flow.model import ITEM_CAUTIONS, ITEM_DONE, Flow, Reading, Value
from engine.job.events import SKIPPED
from engine.job.facts import Facts
from engine.job.fold import trail
from engine.job.hearing import listen
from engine.job.missing import outcomes_of
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.job.state import Answer
from engine.job.walk import Walk, advance, begin

from .little import answer

WALKS = 1000
BATCH = 100
MOST_ANSWERS = 600
"""Three times the longest way through the flow that was meant; chance loops more than people do."""


EXAMPLES = sorted((Path(__file__).parents[3] / "flows" / "examples").glob("*.yaml"))
Known = Mapping[str, Value]


@pytest.fixture(scope="module")
def main_flow() -> Flow:
    return load_flow(find("stroke_by_load"))


@pytest.fixture(scope="module")
def examples(main_flow: Flow) -> tuple[Known, ...]:
    """What the examples give."""
    read = [read_facts(read_replay(str(path)), main_flow).entries for path in EXAMPLES]
    return tuple({name: entry.value for name, entry in entries.items()} for entries in read)


def by_chance(reading: Reading, chance: random.Random) -> Value | None:
    """One time in six the reading cannot be measured; else any word, or any value of the plausible range."""
    if chance.random() < 1 / 6:
        return None
    outcomes = outcomes_of(reading)
    if reading.kind is None:
        return chance.choice(outcomes)
    low, high = outcomes[0], outcomes[-1]
    assert isinstance(low, float)
    assert isinstance(high, float)
    return chance.uniform(low, high)


def one_answer(walk: Walk, known: Known, leaving: float, chance: random.Random) -> Answer:
    assert walk.prompt is not None
    if walk.reading is not None:
        by_example = chance.random() > leaving
        given = known.get(walk.full_name(walk.prompt.item))
        return answer(walk, given if by_example else by_chance(walk.reading, chance))
    if walk.prompt.item == ITEM_DONE and chance.random() < 0.1:
        return Answer(SKIPPED, walk.prompt.key)
    return answer(walk)


def walked(flow: Flow, examples: tuple[Known, ...], seed: int) -> list[Walk]:
    chance = random.Random(seed)
    known, leaving = chance.choice(examples), chance.choice((1 / 50, 1 / 15, 1 / 5, 1.0))
    states = [begin(flow)]
    while states[-1].prompt is not None:
        assert len(states) < MOST_ANSWERS, f"seed {seed} does not end"
        states.append(advance(states[-1], one_answer(states[-1], known, leaving, chance)))
    return states


@pytest.mark.parametrize("batch", range(WALKS // BATCH))
def test_walks_by_chance(main_flow: Flow, examples: tuple[Known, ...], batch: int) -> None:
    reached: set[str] = set()
    for seed in range(batch * BATCH, (batch + 1) * BATCH):
        states = walked(main_flow, examples, seed)
        last = states[-1]
        assert last.status == "finished", seed
        assert last.conclusion is not None, seed
        assert last.conclusion.finding in main_flow.findings, seed
        assert_warned_before_anything_else(states, seed)
        assert_carried_over_as_worked_out(last, seed)
        assert_heard_as_if_for_the_first_time(last, seed)
        reached |= last.visits.keys()
        cut = random.Random(seed).randrange(len(states))
        assert trail(main_flow, states[cut].answered) == states[cut], seed
    assert len(reached) > 0.7 * len(main_flow.steps), "the walks end too early to prove anything"


def assert_carried_over_as_worked_out(last: Walk, seed: int) -> None:
    """What was kept through the walk's changes is what facts with the same values and no past work out."""
    anew = Facts(last.facts.known(), last.flow.sets)
    for name in {name for sign in last.flow.signs.values() for name in sign.when.names}:
        assert last.facts.get(name) == anew.get(name), (seed, name)


def assert_heard_as_if_for_the_first_time(last: Walk, seed: int) -> None:
    """What was kept from hearing to hearing is what the signs say of the same facts heard at once."""
    heard = last.hearing
    assert heard is None or heard == listen(heard.flow, Facts(heard.facts.known(), heard.flow.sets)), seed


def assert_warned_before_anything_else(states: list[Walk], seed: int) -> None:
    visits = dict.fromkeys((walk.prompt.step, walk.prompt.visit) for walk in states if walk.prompt)
    for step, visit in visits:
        first = next(
            walk.prompt
            for walk in states
            if walk.prompt and (walk.prompt.step, walk.prompt.visit) == (step, visit)
        )
        if states[0].flow.steps[step].exposure:
            assert first.item == ITEM_CAUTIONS, (seed, step, visit)
