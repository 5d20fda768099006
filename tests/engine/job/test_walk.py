"""Walking hand-made flows: prompts in order, ways taken, loops, interruptions, closing steps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from engine.flow.model import (
    ITEM_BEGIN,
    ITEM_CAUTIONS,
    ITEM_DONE,
    ITEM_SETTLE,
    Next,
    Rule,
    SetState,
    Step,
    Watch,
)
from engine.job.events import ANSWERED, SET_BEGUN, SETTLED, SKIPPED
from engine.job.state import (
    INTERRUPT,
    RESUMED,
    SKIPPED_FOR,
    SPENT,
    WENT,
    Answer,
    Prompt,
    Shown,
    TrailEntry,
)
from engine.job.walk import Walk, WalkError, advance, begin

from .little import answer, choice, finding, flow, is_, over, rules, sign, through, to, told

LOADED = SetState("loaded", "Loaded", "raised")
END = Step("end", "End", do="Caps on.", end=True)


def items(walk: Walk) -> list[str]:
    """The items asked from here on, each answered plainly."""
    seen = []
    while walk.prompt is not None:
        seen.append(walk.prompt.item)
        walk = advance(walk, answer(walk))
    return seen


def test_prompts_of_a_visit_come_in_the_order_that_keeps_people_safe() -> None:
    step = Step(
        "load",
        "Raise the load",
        do="Blower high.",
        cautions=("hot",),
        set="loaded",
        settle=180.0,
        ask=("turns",),
        record=("low_side", "high_side"),
        next=to("end"),
    )
    made = flow(step, END, sets=(LOADED,))
    assert items(begin(made)) == [
        ITEM_CAUTIONS,
        ITEM_BEGIN,
        ITEM_SETTLE,
        "turns",
        "low_side",
        "high_side",
        ITEM_DONE,
    ]


def test_an_exposed_step_shows_its_cautions_before_anything_else_and_again_on_a_second_visit() -> None:
    exposed = Step("a", "A", do="Touch it.", cautions=("hot", "sharp"), next=to("b"))
    back = Step(
        "b", "B", ask=("turns",), next=rules((is_("turns", "no"), "a"), unknown="end", otherwise="end")
    )
    walk = begin(flow(exposed, back, END))
    assert walk.prompt == Prompt("a", 1, ITEM_CAUTIONS)
    assert walk.cautions == ()
    walk = through(walk, "no")
    assert walk.prompt == Prompt("b", 2, "turns")
    assert walk.cautions == (Shown("a", ("hot", "sharp")), Shown("a", ("hot", "sharp")))


def test_readings_become_facts_under_their_full_names() -> None:
    step = Step("s", "S", set="loaded", ask=("turns",), record=("low_side",), next=to("end"))
    walk = begin(flow(step, END, sets=(LOADED,)))
    assert (walk.current_set, walk.full_name("low_side"), walk.full_name("turns")) == (
        "loaded",
        "loaded.low_side",
        "turns",
    )
    assert walk.reading is not None
    assert walk.reading.name == "turns"
    walk = through(walk, "yes", 2e5)
    assert told(walk) == {"turns": "yes", "loaded.low_side": 2e5}
    assert walk.asked == {"turns", "loaded.low_side"}


def test_cannot_measure_leaves_the_fact_unknown_and_takes_the_unknown_way() -> None:
    step = Step("s", "S", ask=("turns",), next=rules((is_("turns", "yes"), "a"), unknown="b", otherwise="c"))
    made = flow(step, *(Step(name, name, do="Do.", next=to("end")) for name in "abc"), END)
    arrived = {value: through_first(begin(made), value) for value in ("yes", "no", None)}
    assert {value: walk.prompt.step for value, walk in arrived.items() if walk.prompt} == {
        "yes": "a",
        "no": "c",
        None: "b",
    }
    assert arrived[None].unknown == ("turns",)
    assert arrived[None].facts.get("turns") is None
    assert arrived["no"].unknown == ()


def through_first(walk: Walk, value: Any) -> Walk:
    return advance(walk, answer(walk, value))


CLUTCH = choice("clutch", "yes", "no")
ENGAGED = replace(choice("engaged", "yes", "no"), ask_if=is_("clutch", "yes"))


@pytest.mark.parametrize(("clutch", "asked"), [("yes", True), ("no", False), (None, True)])
def test_a_reading_is_not_asked_where_its_condition_is_false(clutch: str | None, asked: bool) -> None:
    """Unknown is not false: what may matter is asked."""
    made = flow(
        Step("s", "S", ask=("clutch", "engaged", "turns"), next=to("end")), END, readings=(CLUTCH, ENGAGED)
    )
    walk = through_first(begin(made), clutch)
    assert walk.prompt is not None
    assert walk.prompt.item == ("engaged" if asked else "turns")


def test_a_step_of_which_nothing_can_be_read_is_passed_without_its_cautions() -> None:
    first = Step("first", "First", ask=("clutch",), next=to("look"))
    look = Step("look", "Look", do="Look.", cautions=("hot",), ask=("engaged",), next=to("end"))
    walk = through_first(begin(flow(first, look, END, readings=(CLUTCH, ENGAGED))), "no")
    assert walk.prompt == Prompt("end", 1, ITEM_DONE)
    assert walk.trail[-1] == TrailEntry(
        "look", 1, SKIPPED_FOR, "end", "none of its readings can be taken here"
    )
    assert walk.cautions == ()


def test_the_first_true_rule_wins_even_behind_an_unknown_one() -> None:
    way = rules((is_("never", "x"), "a"), (is_("turns", "yes"), "b"), unknown="c", otherwise="d")
    made = flow(Step("s", "S", ask=("turns",), next=way), *(Step(n, n, do="Do.", end=True) for n in "abcd"))
    walk = through_first(begin(made), "yes")
    assert walk.prompt is not None
    assert walk.prompt.step == "b"
    walk = through_first(begin(made), "no")
    assert walk.prompt is not None
    assert walk.prompt.step == "c", "one rule could not be told, so 'otherwise' would be a guess"


def test_a_rule_without_a_way_rules_out_and_never_decides() -> None:
    way = Next(
        (
            Rule(is_("turns", "yes"), None, ("drive-broken",), "the hub turns"),
            Rule(is_("never", "x"), None, ("weak",), ""),
        ),
        unknown="b",
        otherwise="a",
    )
    made = flow(Step("s", "S", ask=("turns",), next=way), *(Step(n, n, do="Do.", end=True) for n in "ab"))
    walk = through_first(begin(made), "yes")
    assert walk.prompt is not None
    assert walk.prompt.step == "a"
    assert {name: (one.step, one.because) for name, one in walk.ruled_out.items()} == {
        "drive-broken": ("s", "the hub turns")
    }


def test_junctions_pass_silently_and_are_told_in_the_trail() -> None:
    walk = begin(
        flow(
            Step("j", "J", next=rules((is_("turns", "yes"), "end"), unknown="k", otherwise="end")),
            Step("k", "K", next=to("end")),
            END,
        )
    )
    assert walk.prompt == Prompt("end", 1, ITEM_DONE)
    assert walk.trail == (
        TrailEntry("j", 1, WENT, "k", "cannot be told: turns is yes"),
        TrailEntry("k", 1, WENT, "end", ""),
    )


def test_a_step_for_findings_of_which_one_is_left_is_skipped() -> None:
    parting = Step("part", "Part", ask=("turns",), for_=("weak", "stuck"), skip_to="end", next=to("end"))
    ruling = Next((Rule(is_("turns", "yes"), None, ("weak",), "it pumps"),), None, "part")
    first = Step("first", "First", ask=("turns",), next=ruling)
    made = flow(first, parting, END, findings=(finding("weak"), finding("stuck"), finding("other")))
    skipped = through_first(begin(made), "yes")
    assert skipped.prompt == Prompt("end", 1, ITEM_DONE)
    assert skipped.trail[-1] == TrailEntry("part", 1, SKIPPED_FOR, "end", "only stuck is still possible")
    taken = through_first(begin(made), "no")
    assert taken.prompt == Prompt("part", 1, "turns")


def test_a_finding_below_the_alive_limit_no_longer_keeps_a_step_on_the_way() -> None:
    """1 against 1/200: a share of 0.5 %, below the limit of 2 %."""
    parting = Step("part", "Part", ask=("turns",), for_=("weak", "stuck"), skip_to="end", next=to("end"))
    first = Step("first", "First", ask=("turns",), next=to("part"))
    made = flow(
        first,
        parting,
        END,
        findings=(finding("weak"), finding("stuck")),
        signs=(sign("turning", is_("turns", "yes"), stuck=(1 / 200, 1.0)),),
    )
    assert through_first(begin(made), "yes").prompt == Prompt("end", 1, ITEM_DONE)
    assert through_first(begin(made), "no").prompt == Prompt("part", 1, "turns")


def test_the_visit_after_at_most_leads_to_then() -> None:
    asked = Step("a", "A", ask=("turns",), at_most=2, then="end", next=to("again"))
    again = Step("again", "Again", do="Look again.", next=to("a"))
    walk = through(begin(flow(asked, again, END)), "no", "no")
    assert walk.prompt is None
    assert walk.visits == {"a": 2, "again": 2, "end": 1}
    assert walk.trail[-2] == TrailEntry("a", 3, SPENT, "end", "taken 2 times already")


def test_a_set_begun_anew_forgets_what_was_read_in_it() -> None:
    step = Step(
        "load",
        "Load",
        do="Do.",
        set="loaded",
        settle=60.0,
        record=("low_side", "high_side"),
        next=rules((over("loaded.high_side", 1e6), "load"), unknown="end", otherwise="end"),
    )
    walk = through(begin(flow(step, END, sets=(LOADED,))), 2e5, 2e6)
    assert walk.prompt == Prompt("load", 2, "low_side")
    assert told(walk) == {"loaded.settled": "yes"}
    begun = begin(flow(step, END, sets=(LOADED,)))
    begun = through(begun, None, 2e6)
    assert begun.unknown == (), "what could not be measured in the set before is open again"


def test_settle_time_not_kept_is_a_fact_of_the_set() -> None:
    step = Step("load", "Load", do="Do.", set="loaded", settle=60.0, record=("low_side",), next=to("end"))
    walk = begin(flow(step, END, sets=(LOADED,)))
    walk = advance(walk, Answer(SET_BEGUN, walk.prompt.key if walk.prompt else ("", 0, "")))
    assert walk.prompt is not None
    walk = advance(walk, Answer(SETTLED, walk.prompt.key, detail={"waited": 20.0, "kept": False}))
    assert walk.facts.get("loaded.settled") == "no"


def test_a_set_that_cannot_be_taken_leaves_its_step_with_its_readings_unknown() -> None:
    way = rules((over("loaded.low_side", 0), "end"), unknown="other", otherwise="end")
    step = Step("load", "Load", do="Do.", set="loaded", settle=60.0, record=("low_side",), next=way)
    walk = begin(flow(step, Step("other", "Other", do="Do."), END, sets=(LOADED,)))
    assert walk.prompt is not None
    walk = advance(walk, Answer(SKIPPED, walk.prompt.key))
    assert walk.prompt == Prompt("other", 1, ITEM_DONE)


HIGH = Watch("high-limit", over("high_side", 2.7e6), "stop", "the limit is reached", again="give-up")


def watched(*, resume: bool = True) -> Walk:
    load = Step("load", "Load", set="loaded", record=("high_side", "low_side"), next=to("end"))
    stop = Step("stop", "Stop", do="A/C off.", resume=resume, next=None if resume else to("end"))
    give_up = Step("give-up", "Give up", conclude=("weak",))
    return begin(flow(load, stop, give_up, END, sets=(LOADED,), watch=(HIGH,), findings=(finding("weak"),)))


def test_a_watch_rule_stops_the_step_at_once_and_the_walk_resumes_it_as_a_new_visit() -> None:
    walk = through_first(watched(), 2.8e6)
    assert walk.prompt == Prompt("stop", 1, ITEM_DONE)
    assert (walk.interrupted, walk.resume_to, walk.fired) == (True, "load", frozenset({"high-limit"}))
    assert walk.trail == (TrailEntry("load", 1, INTERRUPT, "stop", "the limit is reached"),)
    walk = advance(walk, answer(walk))
    assert walk.prompt == Prompt("load", 2, "high_side")
    assert (walk.interrupted, walk.resume_to) == (False, None)
    assert walk.trail[-1].how == RESUMED
    assert told(walk) == {}, "the value that stopped the step is not read again as the new visit's"


def test_a_watch_rule_that_fires_again_leads_to_its_again_and_the_conclusion_says_so() -> None:
    walk = through(watched(), 2.8e6, 2.75e6)
    assert walk.prompt is None
    assert [entry.to for entry in walk.trail if entry.how == INTERRUPT] == ["stop", "give-up"]
    assert walk.conclusion is not None
    assert walk.conclusion.interrupted


def test_a_watch_rule_without_again_fires_once() -> None:
    once = Watch("w", over("high_side", 1.0), "stop", "")
    load = Step("load", "Load", set="loaded", record=("high_side", "low_side"), next=to("end"))
    stop = Step("stop", "Stop", do="A/C off.", resume=True)
    walk = begin(flow(load, stop, END, sets=(LOADED,), watch=(once,)))
    walk = through(walk, 5.0, 5.0, 1.0)
    assert walk.prompt is None
    assert [entry.how for entry in walk.trail].count(INTERRUPT) == 1


def test_cannot_measure_never_fires_a_watch_rule() -> None:
    walk = advance(watched(), answer(watched()))
    assert walk.prompt == Prompt("load", 1, "low_side")


def test_closing_steps_run_after_the_conclusion_until_the_end() -> None:
    weigh = Step("weigh", "Weigh", conclude=("weak",), next=to("hoses"))
    hoses = Step("hoses", "Hoses", do="Take off the hoses.", cautions=("cold",), next=to("end"))
    walk = begin(flow(weigh, hoses, END, findings=(finding("weak"),)))
    assert (walk.status, walk.prompt) == ("concluded", Prompt("hoses", 1, ITEM_CAUTIONS))
    assert walk.conclusion is not None
    assert walk.conclusion.finding == "weak"
    walk = through(walk)
    assert (walk.status, walk.prompt) == ("finished", None)
    assert [entry.step for entry in walk.trail] == ["weigh", "hoses", "end"]


def test_a_concluding_step_with_a_danger_shows_it_before_it_concludes() -> None:
    stop = Step("hv", "Stop", cautions=("high-voltage",), proved="high-voltage")
    walk = begin(flow(stop, findings=(finding("high-voltage", 0.0),)))
    assert (walk.status, walk.conclusion) == ("asking", None)
    walk = through(walk)
    assert walk.status == "finished"
    assert walk.conclusion is not None
    assert (walk.conclusion.finding, walk.conclusion.proved_by) == ("high-voltage", "hv")


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (Answer(ANSWERED, ("s", 2, "turns"), "yes"), "visit 2"),
        (Answer(ANSWERED, ("s", 1, "low_side"), 1.0), "'low_side'"),
        (Answer(SKIPPED, ("s", 1, "turns")), "answered or cannot-measure"),
        (Answer(ANSWERED, ("s", 1, "turns"), "maybe"), "'maybe'"),
        (Answer(ANSWERED, ("s", 1, "turns"), None), "None"),
        (Answer(ANSWERED, ("s", 1, "turns"), 3.0), "3.0"),
    ],
)
def test_an_answer_that_does_not_fit_the_prompt_is_refused(wrong: Answer, says: str) -> None:
    walk = begin(flow(Step("s", "S", ask=("turns",), next=to("end")), END))
    with pytest.raises(ValueError, match=says):
        advance(walk, wrong)


def test_a_number_that_is_none_and_a_word_for_several_are_refused() -> None:
    several = choice("found", "none", "air", several=True, alone="none")
    made = flow(Step("s", "S", ask=("low_side", "found"), next=to("end")), END, readings=(several,))
    walk = begin(made)
    for value in (float("nan"), float("inf"), True, "41"):
        with pytest.raises(ValueError, match="cannot be"):
            advance(walk, Answer(ANSWERED, ("s", 1, "low_side"), value))
    walk = through_first(walk, 2e5)
    with pytest.raises(ValueError, match="cannot be"):
        advance(walk, Answer(ANSWERED, ("s", 1, "found"), "air"))
    assert told(through_first(walk, frozenset({"air"})))["found"] == frozenset({"air"})


def test_a_finished_walk_takes_no_more_answers() -> None:
    walk = through(begin(flow(END)))
    with pytest.raises(ValueError, match="finished"):
        advance(walk, Answer(ANSWERED, ("end", 1, ITEM_DONE)))


def test_a_flow_without_end_is_stopped_with_its_place() -> None:
    with pytest.raises(WalkError, match=r"no end near step '[ab]'"):
        begin(flow(Step("a", "A", next=to("b")), Step("b", "B", next=to("a"))))


def test_a_step_that_is_not_there_is_named() -> None:
    with pytest.raises(WalkError, match="'nowhere'"):
        begin(flow(Step("a", "A", next=to("nowhere"))))


def test_resuming_where_nothing_was_interrupted_is_an_error_of_the_flow() -> None:
    with pytest.raises(WalkError, match="nothing was interrupted"):
        begin(flow(Step("a", "A", resume=True)))


def test_advance_leaves_the_walk_it_was_given_as_it_was() -> None:
    before = begin(flow(Step("s", "S", ask=("turns",), next=to("end")), END))
    advance(before, answer(before, "yes"))
    assert before == begin(before.flow)
    assert before.prompt == Prompt("s", 1, "turns")
    assert told(before) == {}


def test_a_walk_may_begin_at_a_step_with_facts_known_before() -> None:
    way = Next((Rule(is_("turns", "yes"), "end"),), "first", "first")
    made = flow(Step("first", "First", ask=("turns",), next=to("fork")), Step("fork", "Fork", next=way), END)
    known = begin(made, "fork", {"turns": "yes"})
    assert known.prompt == Prompt("end", 1, ITEM_DONE)
    assert known.facts.get("turns") == "yes"
    assert begin(made, "fork").prompt == Prompt("first", 1, "turns")


def test_a_walk_cannot_begin_at_a_step_there_is_not() -> None:
    with pytest.raises(WalkError, match="leads to step 'nowhere'"):
        begin(flow(END), "nowhere")
