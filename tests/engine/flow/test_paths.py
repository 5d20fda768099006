"""What is wrong along the paths: steps never reached, loops, ends without a finding, watch rules, resuming."""

# ruff: noqa: E501 (one step a line reads best)

from __future__ import annotations

import pytest

from tests.engine.flow.mini import asks, mini
from tests.engine.flow.small import FLOW, changed, only_problem, problems

FIRST = asks("first", "hot", "done")


def told(text: str) -> list[str]:
    """What is said, without file."""
    return [f"{p.line}: {p.what}, {p.hint}" for p in problems(text)]


def line(text: str, snippet: str) -> int:
    assert text.count(snippet) == 1
    return text[: text.index(snippet)].count("\n") + 1


def test_the_mini_flow_is_right() -> None:
    assert told(mini(FIRST)) == []


class TestReach:
    def test_a_step_nobody_leads_to(self) -> None:
        text = mini(FIRST + asks("lost", "hot", "done"))
        problem = only_problem(text)
        assert (problem.what, problem.line) == ("step 'lost' is never reached", line(text, "lost:"))
        assert problem.hint == "lead to it, or delete it"

    def test_only_the_first_of_a_lost_part_is_told(self) -> None:
        text = mini(
            FIRST
            + asks("lost", "hot", "lost2")
            + asks("lost2", "hot", "lost3")
            + asks("lost3", "wet", "done")
        )
        assert only_problem(text).what == "step 'lost' is never reached, nor what only it leads to (2 more)"

    def test_a_lost_ring_is_told_once(self) -> None:
        text = mini(
            FIRST
            + "ring: {title: T, do: D, at_most: 1, then: done, next: ring2}\nring2: {title: T, do: D, next: ring}\n"
        )
        assert only_problem(text).what == "step 'ring' is never reached, nor what only it leads to (1 more)"

    @pytest.mark.parametrize(
        "way",
        [
            "next: [{when: hot is yes, go: far}, {unknown: done}, {otherwise: done}]",
            "next: [{when: hot is yes, go: done}, {unknown: far}, {otherwise: done}]",
            "next: [{when: hot is yes, go: done}, {unknown: done}, {otherwise: far}]",
            "at_most: 1, then: far, next: done",
            "for: [fine], skip_to: far, next: done",
        ],
    )
    def test_every_kind_of_way_counts(self, way: str) -> None:
        text = mini(f"first: {{title: T, do: D, ask: [hot], {way}}}\n" + asks("far", "wet", "done"))
        assert told(text) == []

    def test_a_watch_rule_leads_somewhere_only_if_a_set_is_taken(self) -> None:
        watch = "watch: [{name: w, when: high_side > 5 psi, because: B, go: stop}]\n"
        stop = "stop: {title: Stop, proved: bad}\n"
        recorded = "first: {title: T, do: D, ask: [hot], set: s, record: [high_side], next: done}\n"
        assert told(mini(recorded + stop, more=watch)) == []
        lost = told(mini("first: {title: T, do: D, ask: [hot, high_side], next: done}\n" + stop, more=watch))
        assert any("watch rule 'w' never comes true, no step records into a set" in one for one in lost)
        assert any("step 'stop' is never reached" in one for one in lost)


class TestLoops:
    def test_a_step_that_leads_to_itself(self) -> None:
        loop = "first: {title: T, do: D, ask: [hot], next: [{when: hot is yes, go: first}, {unknown: done}, {otherwise: done}]}\n"
        problem = only_problem(mini(loop))
        assert problem.what == "no way out of the loop first > first"
        assert problem.hint == "give one of them 'at_most' and 'then'"

    def test_a_longer_loop_is_shown_as_it_goes(self) -> None:
        loop = (
            asks("first", "hot", "b")
            + asks("b", "wet", "c")
            + (
                "c: {title: T, do: D, next: [{when: hot is yes, go: b}, {unknown: done}, {otherwise: done}]}\n"
            )
        )
        assert only_problem(mini(loop)).what == "no way out of the loop b > c > b"

    def test_at_most_is_a_way_out(self) -> None:
        loop = "first: {title: T, do: D, ask: [hot], at_most: 2, then: done, next: first}\n"
        assert told(mini(loop)) == []

    def test_at_most_whose_then_stays_inside_is_none(self) -> None:
        loop = "first: {title: T, do: D, ask: [hot], at_most: 2, then: b, next: done}\n" + asks(
            "b", "wet", "first"
        )
        assert only_problem(mini(loop)).what == "no way out of the loop first > b > first"

    def test_two_loops_are_two_problems(self) -> None:
        two = (
            "first: {title: T, do: D, ask: [hot], next: [{when: hot is yes, go: first}, {unknown: b}, {otherwise: b}]}\n"
            "b: {title: T, do: D, next: [{when: hot is yes, go: b}, {unknown: done}, {otherwise: done}]}\n"
        )
        assert [p.what for p in problems(mini(two))] == [
            "no way out of the loop first > first",
            "no way out of the loop b > b",
        ]

    def test_skipping_is_a_way_too(self) -> None:
        loop = asks("first", "hot", "b") + "b: {title: T, do: D, for: [fine], skip_to: first, next: done}\n"
        assert only_problem(mini(loop)).what == "no way out of the loop first > b > first"


class TestEnds:
    def test_an_end_without_a_finding(self) -> None:
        text = mini(
            "first: {title: T, do: D, ask: [hot], next: [{when: hot is yes, go: bye}, {unknown: done}, {otherwise: done}]}\n"
            "bye: {title: T, do: D, end: true}\n"
        )
        problem = only_problem(text)
        assert problem.what == "the walk can end at 'bye' without a finding"
        assert problem.line == line(text, "end: true")

    def test_closing_steps_do_and_end(self) -> None:
        closing = "weigh: {title: T, conclude: all, next: off}\noff: {title: T, do: D, next: caps}\ncaps: {title: T, do: D, end: true}\n"
        assert told(mini(asks("first", "hot", "weigh") + closing, ends=False)) == []

    @pytest.mark.parametrize("key", ["ask: [wet]", "set: s, record: [low_side]"])
    def test_closing_steps_ask_nothing(self, key: str) -> None:
        closing = (
            f"weigh: {{title: T, conclude: all, next: off}}\noff: {{title: T, do: D, {key}, end: true}}\n"
        )
        problem = only_problem(mini(asks("first", "hot", "weigh") + closing, ends=False))
        assert problem.what == "step 'off' asks after 'weigh' has concluded"
        assert problem.hint == "ask before the conclusion"

    def test_a_walk_concludes_once(self) -> None:
        text = mini(asks("first", "hot", "weigh") + "weigh: {title: T, conclude: all, next: done}\n")
        assert only_problem(text).what == "step 'done' concludes after 'weigh' has concluded"

    def test_a_finding_that_nothing_concludes(self) -> None:
        text = mini(asks("first", "hot", "weigh") + "weigh: {title: T, conclude: [fine]}\n", ends=False)
        problem = only_problem(text)
        assert problem.what == "finding 'bad' is never concluded"
        assert problem.line == line(text, "bad: {title")

    def test_a_sign_whose_reading_nobody_asks(self) -> None:
        text = mini(asks("first", "wet", "done"))
        problem = only_problem(text)
        assert problem.what == "'hot' is used, but never asked"
        assert (problem.line, problem.hint) == (
            line(text, "when: hot is yes"),
            "ask it in some step, or this can never be told",
        )

    def test_a_sign_whose_computed_reading_lacks_a_need(self) -> None:
        steps = "first: {title: T, do: D, ask: [refrigerant], set: s, record: [low_side], next: done}\n"
        text = mini(steps).replace("when: hot is yes", "when: s.superheat > 5 K")
        assert (
            only_problem(text).what
            == "'s.superheat' needs 's.suction_line_temperature', which is never asked"
        )


class TestSets:
    def test_a_set_nobody_takes(self) -> None:
        text = mini(FIRST).replace("findings:\n", "sets: {u: {label: U, load: rest}}\nfindings:\n")
        assert only_problem(text).what == "no step records into set 'u'"

    def test_a_set_under_load_needs_a_settle_time(self) -> None:
        steps = "first: {title: T, do: D, ask: [hot], set: s, record: [low_side], next: done}\n"
        text = mini(steps).replace("s: {label: S, load: rest}", "s: {label: S, load: raised}")
        problem = only_problem(text)
        assert problem.what == "set 's' is under load, but no step lets it settle"
        assert told(text.replace("set: s,", "set: s, settle: 3 min,")) == []


class TestWatch:
    SMALL_AGAIN = "    again: stop\n"

    def test_what_resumes_needs_again(self) -> None:
        problem = only_problem(changed((self.SMALL_AGAIN, "")))
        assert problem.what == "after watch rule 'limit' the walk goes on unwatched"
        assert "again: STEP" in problem.hint

    def test_again_must_not_resume(self) -> None:
        problem = only_problem(changed((self.SMALL_AGAIN, "    again: cool\n")))
        assert problem.what == "'again' of watch rule 'limit' resumes, so it comes back for ever"

    def test_again_must_not_lead_back_to_a_set(self) -> None:
        found = problems(changed((self.SMALL_AGAIN, "    again: base\n")))
        assert any("no way out of the loop base > base" in p.what and "'again'" in p.hint for p in found)

    def test_a_rule_that_stops_for_good_needs_no_again(self) -> None:
        text = changed(
            ("    go: cool\n", "    go: stop\n"),
            (self.SMALL_AGAIN, ""),
            ("    next: resume", "    next: caps"),
        )
        assert [p.what for p in problems(text)] == ["step 'cool' is never reached"]

    def test_resume_where_nothing_was_interrupted(self) -> None:
        found = problems(changed(("    next: more-load\n", "    next: cool\n")))
        assert any("'cool' resumes, but nothing was interrupted there" in p.what for p in found)

    def test_no_set_is_taken_on_the_way_back(self) -> None:
        text = changed(
            (
                "    do: Switch off, wait.\n",
                "    do: Switch off, wait.\n    set: baseline\n    record: [high_side]\n",
            )
        )
        found = problems(text)
        assert any("step 'cool' records into a set before it resumes another one" in p.what for p in found)

    def test_a_watched_reading_that_no_set_has(self) -> None:
        steps = "first: {title: T, do: D, ask: [hot], set: s, record: [low_side], next: done}\nstop: {title: S, proved: bad}\n"
        watch = "watch: [{name: w, when: high_side > 5 psi, because: B, go: stop}]\n"
        problem = only_problem(mini(steps, more=watch))
        assert problem.what == "'high_side' is used, but never asked"


def test_the_small_flow_has_a_rule_that_resumes_and_is_right() -> None:
    assert problems(FLOW) == []
