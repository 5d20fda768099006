"""Resume, undo and replay are one fold: events to answers, answers to the walk."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from engine.flow.model import Flow, Next, Rule, SetState, Step, Watch
from engine.job.events import (
    ANSWERED,
    DONE,
    DRAFT,
    HELD,
    NOTED,
    PREDICTED,
    STARTED,
    WITHDRAWN,
    Event,
)
from engine.job.fold import answer_of, answers, follow, trail
from engine.job.state import Answer, Prompt
from engine.job.walk import Walk, advance, begin

from .little import answer, choice, finding, flow, is_, over, rules, sign, to, told

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def event_of(given_answer: Answer, minute: int = 0) -> Event:
    step, visit, item = given_answer.key
    value = given_answer.value
    return Event(
        given_answer.kind,
        START + timedelta(minutes=minute),
        "little",
        step,
        visit,
        item,
        value=tuple(sorted(value)) if isinstance(value, frozenset) else value,
        detail=dict(given_answer.detail),
    )


def other(kind: str, key: tuple[str, int, str] = ("", 1, "")) -> Event:
    return Event(kind, START, "little", *key)


TWO = flow(
    Step(
        "a", "A", ask=("turns", "found"), next=rules((is_("turns", "yes"), "b"), unknown="c", otherwise="c")
    ),
    Step("b", "B", ask=("low_side",), next=to("end")),
    Step("c", "C", ask=("high_side",), next=to("end")),
    Step("end", "End", do="Caps on.", end=True),
    readings=(choice("found", "none", "air", "sealant", several=True, alone="none"),),
)
TURNS = Event(ANSWERED, START, "little", "a", 1, "turns", value="yes")
FOUND = Event(ANSWERED, START, "little", "a", 1, "found", value=("air", "sealant"))
LOW = Event(ANSWERED, START, "little", "b", 1, "low_side", value=2e5)


def test_answers_keep_text_unit_and_time_and_several_words_become_a_set() -> None:
    typed = Event(ANSWERED, START, "little", "b", 1, "low_side", "2 bar", "bar", 2e5, {"a": 1})
    assert answer_of(typed) == Answer(ANSWERED, ("b", 1, "low_side"), 2e5, "2 bar", "bar", START, {"a": 1})
    assert answer_of(FOUND).value == frozenset({"air", "sealant"})


def test_the_walk_goes_as_far_as_the_answers_lead() -> None:
    walk = trail(TWO, answers([other(STARTED), TURNS, FOUND, LOW]))
    assert walk.prompt == Prompt("end", 1, "(done)")
    assert told(walk) == {"turns": "yes", "found": frozenset({"air", "sealant"}), "low_side": 2e5}


def test_an_answer_given_again_replaces_the_first_and_moves_to_the_end() -> None:
    again = Event(ANSWERED, START, "little", "a", 1, "turns", value="no")
    live = answers([TURNS, FOUND, again])
    assert list(live) == [("a", 1, "found"), ("a", 1, "turns")]
    assert trail(TWO, live).prompt == Prompt("c", 1, "high_side")


def test_an_answer_off_the_path_lies_dormant_until_the_walk_comes_past_it() -> None:
    no = Event(ANSWERED, START, "little", "a", 1, "turns", value="no")
    off = [TURNS, FOUND, LOW, no]
    walk = trail(TWO, answers(off))
    assert walk.prompt == Prompt("c", 1, "high_side")
    assert "low_side" not in told(walk)
    back = trail(TWO, answers([*off, TURNS]))
    assert back.prompt == Prompt("end", 1, "(done)")
    assert told(back)["low_side"] == 2e5


def test_a_withdrawn_answer_is_gone_and_may_be_given_again() -> None:
    withdrawn = other(WITHDRAWN, ("a", 1, "turns"))
    assert trail(TWO, answers([TURNS, FOUND, withdrawn])).prompt == Prompt("a", 1, "turns")
    assert trail(TWO, answers([TURNS, withdrawn, TURNS])).prompt == Prompt("a", 1, "found")
    assert answers([withdrawn]) == {}


def test_what_answers_no_prompt_does_not_move_the_walk() -> None:
    key = ("a", 1, "found")
    idle = [other(kind, key) for kind in (HELD, DRAFT, PREDICTED, NOTED)]
    assert trail(TWO, answers([TURNS, *idle])) == trail(TWO, answers([TURNS]))


def test_a_damaged_answer_is_asked_again() -> None:
    wrong_kind = Event(DONE, START, "little", "a", 1, "turns")
    wrong_word = Event(ANSWERED, START, "little", "a", 1, "turns", value="sideways")
    for damaged in (wrong_kind, wrong_word):
        assert trail(TWO, answers([damaged, FOUND])).prompt == Prompt("a", 1, "turns")


# --- any walk, cut anywhere


def rich() -> Flow:
    """Loops, a watch rule that resumes and gives up, a step for two findings, closing steps."""
    return flow(
        Step("start", "Start", cautions=("hot",), ask=("turns",), next=to("load")),
        Step(
            "load",
            "Load",
            do="Do.",
            set="loaded",
            settle=60.0,
            record=("high_side", "low_side"),
            at_most=3,
            then="route",
            next=Next(
                (
                    Rule(over("loaded.low_side", 3e5), None, ("stuck",), "it moved"),
                    Rule(over("loaded.high_side", 1.5e6), "load"),
                ),
                "again",
                "route",
            ),
        ),
        Step("again", "Again", do="Look again.", at_most=1, then="route", next=to("load")),
        Step("route", "Route", next=rules((is_("turns", "no"), "weigh"), unknown="part", otherwise="part")),
        Step("part", "Part", ask=("low_side",), for_=("weak", "stuck"), skip_to="weigh", next=to("weigh")),
        Step("stop", "Stop", do="A/C off.", resume=True),
        Step("weigh", "Weigh", conclude=("weak", "stuck", "no-fault"), next=to("end")),
        Step("end", "End", do="Caps on.", end=True),
        sets=(SetState("loaded", "Loaded", "raised"),),
        watch=(Watch("limit", over("high_side", 2.7e6), "stop", "too high", again="weigh"),),
        findings=(finding("weak"), finding("stuck"), finding("no-fault")),
        signs=(
            sign("turning", is_("turns", "yes"), weak=(3.0, 0.2)),
            sign("high", over("loaded.high_side", 1e6), weak=(0.2, 5.0), no_fault=(4.0, 0.5)),
        ),
    )


RICH = rich()
VALUES = {
    "turns": ("yes", "no", None),
    "high_side": (2.8e6, 2e6, 1.2e6, 5e5, None),
    "low_side": (4e5, 2e5, None),
}
MOVES = st.lists(st.one_of(st.integers(0, 9), st.sampled_from(["undo", "edit"])), max_size=40)


def answered_by(walk: Walk, pick: int) -> Answer:
    assert walk.prompt is not None
    values = VALUES.get(walk.prompt.item)
    return answer(walk, values[pick % len(values)] if values else None)


def lived(moves: Sequence[int | str]) -> list[tuple[list[Event], Walk]]:
    """The events so far and the walk as a running program holds it, after each move."""
    events: list[Event] = []
    walk = begin(RICH)
    states = [(list(events), walk)]
    for move in moves:
        if isinstance(move, int) and walk.prompt is not None:
            given_answer = answered_by(walk, move)
            events.append(event_of(given_answer, len(events)))
            walk = follow(advance(walk, answer_of(events[-1])), answers(events))
        elif move == "undo" and walk.answered:
            events.append(other(WITHDRAWN, list(walk.answered)[-1]))
            walk = trail(RICH, answers(events))
        elif move == "edit" and walk.answered:
            first = next(iter(walk.answered.values()))
            events.append(event_of(first, len(events)))
            walk = trail(RICH, answers(events))
        states.append((list(events), walk))
    return states


@settings(max_examples=200, deadline=None)
@given(MOVES)
def test_resuming_after_any_event_is_the_same_as_having_gone_on(moves: list[int | str]) -> None:
    for events, walk in lived(moves):
        assert trail(RICH, answers(events)) == walk


@settings(max_examples=200, deadline=None)
@given(st.lists(st.integers(0, 9), min_size=1, max_size=40))
def test_undo_and_the_same_answer_again_change_nothing(moves: list[int]) -> None:
    events, walk = lived(moves)[-1]
    last = list(walk.answered)[-1]
    undone = [*events, other(WITHDRAWN, last)]
    before = trail(RICH, answers(undone))
    assert before.prompt is not None
    assert before.prompt.key == last
    again = next(event for event in reversed(events) if event.key == last)
    assert trail(RICH, answers([*undone, again])) == walk


@settings(max_examples=200, deadline=None)
@given(st.lists(st.integers(0, 9), min_size=40, max_size=40))
def test_every_walk_of_this_flow_ends_with_a_conclusion_and_its_cautions(moves: list[int]) -> None:
    walk = lived(moves)[-1][1]
    assert walk.status == "finished"
    assert walk.conclusion is not None
    assert [shown.step for shown in walk.cautions] == ["start"]
    assert walk.trail[-1].step == "end"
