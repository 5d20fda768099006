"""Runs of steps in parts: bound to the flow by name, told at their own line, entered at their start."""

# ruff: noqa: E501 (one case a line)

from __future__ import annotations

import pytest

from engine.flow.model import Flow
from tests.engine.flow.small import changed
from tests.engine.flow.with_parts import LOOK, MAIN, load, problems, told


@pytest.fixture(scope="module")
def flow() -> Flow:
    return load()


def test_exits_lead_to_the_steps_behind_them(flow: Flow) -> None:
    look = flow.steps["look"]
    assert (look.skip_to, look.then) == ("done", "ask-again")
    assert look.next is not None
    assert [rule.go for rule in look.next.rules] == ["nearer"]
    assert (look.next.unknown, look.next.otherwise) == ("ask-again", "done")
    nearer = flow.steps["nearer"].next
    assert nearer is not None
    assert nearer.otherwise == "done"


def test_a_run_stands_before_the_first_step_it_leads_on_to(flow: Flow) -> None:
    assert list(flow.steps) == ["first", "look", "nearer", "ask-again", "done"]


def test_an_exit_of_one_run_may_be_the_start_of_another() -> None:
    closing = "start: caps\nsteps:\n  caps: {title: C, do: Put the caps on., end: true}\n"
    main = changed(
        ("{title: D, conclude: all}", "{title: D, conclude: all, next: look}"),
        ("- {part: parts/look.yaml, exits: {seen: done, hidden: ask-again}}", "- parts/look.yaml"),
        ("next: look}\n  ask", "next: done}\n  ask"),
        ("  ask-again: {title: A, do: Ask again., ask: [wet], next: done}\n", ""),
        text=MAIN,
    )
    flow = load(main, look=closing.replace("caps", "look"))
    assert list(flow.steps) == ["first", "done", "look"]  # what ends the walk stands last


def test_a_run_may_lead_back_to_what_was_interrupted() -> None:
    watch = "watch:\n  - {name: w, when: low_side > 90 psi, because: B, go: look, again: done}\n"
    main = changed(
        ("exits: {seen: done, hidden: ask-again}", "exits: {seen: resume}"),
        (
            "ask: [tired], next: look}",
            "set: s, settle: 1 min, record: [low_side], next: ask-again}",
        ),
        (
            "  tired: {label: Tired, choices: {yes: Y, no: N}}",
            "  own_reading: {label: O, quantity: pressure}",
        ),
        (
            "  own: {when: tired is yes, says: tired, weighs: {fine: 0.5}}",
            "  own: {when: wet is yes, says: w, weighs: {fine: 2}}",
        ),
        text=MAIN + watch + "sets:\n  s: {label: S, load: raised}\n",
    )
    look = "start: look\nexits: {seen: It was seen.}\nsteps:\n  look: {title: L, do: Look., next: seen}\n"
    shared_without_condition = (
        "readings:\n  wet: {label: W, choices: {yes: Y, no: N}}\n  low_side: {label: Low, quantity: pressure}\n"
        "findings:\n  fine: {title: F, means: M}\n  inconclusive: {title: I, means: M, prior: 0}\n"
    )
    assert load(main, shared_without_condition, look).steps["look"].resume


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "{seen: done, hidden: ask-again}",
            "{seen: done}",
            "small.yaml:9: exit 'hidden' of 'parts/look.yaml' leads nowhere (It is behind something), "
            "add 'exits: {hidden: STEP}'",
        ),
        (
            "{seen: done, hidden: ask-again}",
            "{seen: done, hidden: ask-agian}",
            "small.yaml:9: there is no step 'ask-agian', did you mean 'ask-again'?",
        ),
        (
            "{seen: done, hidden: ask-again}",
            "{seen: done, hidden: ask-again, hiden: done}",
            "small.yaml:9: 'parts/look.yaml' has no exit 'hiden', did you mean 'hidden'?",
        ),
        (
            "- parts/shared.yaml",
            "- {part: parts/shared.yaml, exits: {seen: done}}",
            "small.yaml:8: 'parts/shared.yaml' has no steps, so no exit 'seen', delete 'exits'",
        ),
        (
            "ask: [tired], next: look",
            "ask: [tired], next: nearer",
            "small.yaml:13: step 'nearer' is inside 'parts/look.yaml', lead to its start, 'look'",
        ),
        (
            "start: first",
            "start: nearer",
            "small.yaml:6: step 'nearer' is inside 'parts/look.yaml', lead to its start, 'look'",
        ),
        (
            "- {part: parts/look.yaml, ",
            "- {part: parts/look.yaml, exit: {}, ",
            "small.yaml:9: unknown key 'exit', did you mean 'exits'?",
        ),
    ],
)
def test_mistakes_of_the_using_flow_are_told_there(old: str, new: str, expected: str) -> None:
    assert told(changed((old, new), text=MAIN)) == [expected]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "start: look\n",
            "start: lok\n",
            "parts/look.yaml:1: there is no step 'lok' in this part, did you mean 'look'?",
        ),
        ("start: look\n", "", "parts/look.yaml:1: 'start' is missing, add 'start:'"),
        (
            "then: hidden",
            "then: hiden",
            "parts/look.yaml:11: there is no step 'hiden', did you mean 'hidden'?",
        ),
        (
            "hidden: It is behind something.}",
            "hidden: It is behind something., gone: It is not there.}",
            "parts/look.yaml:2: no step leaves by exit 'gone', lead a step to it, or delete it",
        ),
        (
            "{seen: It was seen., ",
            "{seen: It was seen., nearer: Closer., ",
            "parts/look.yaml:2: exit 'nearer' is a step of this part, too, rename one",
        ),
        ("ask: [hot]", "ask: [hott]", "parts/look.yaml:7: unknown reading 'hott', did you mean 'hot'?"),
        (
            "do: Look.\n",
            "doo: Look.\n",
            "parts/look.yaml:6: unknown key 'doo' in step 'look', did you mean 'do'?",
        ),
    ],
)
def test_mistakes_of_a_part_are_told_in_the_part(old: str, new: str, expected: str) -> None:
    found = told(look=changed((old, new), text=LOOK))
    assert expected in found
    assert all(line.startswith(("parts/look.yaml", "small.yaml:9: exit")) for line in found), found


def test_a_part_may_not_lead_into_the_flow_past_its_exits() -> None:
    # `done` is the step behind an exit here; in another flow it would not be there, so the part cannot name it
    found = told(look=changed(("go: nearer", "go: first"), text=LOOK))
    assert found == [
        "parts/look.yaml:14: step 'first' is outside this part, lead to one of its exits, or declare one"
    ]


def test_steps_of_two_files_have_names_of_their_own() -> None:
    found = problems(MAIN.replace("ask-again", "nearer"))
    assert ("small.yaml", "'nearer' is in 'steps' twice") in [(one.file, one.what) for one in found]


def test_start_and_exits_go_with_steps() -> None:
    assert told(look="exits: {seen: S.}\nsigns: {}\n")[1:] == [
        "parts/look.yaml:1: unknown key 'exits' in a part, it goes with 'steps'",
        "parts/look.yaml:2: 'signs' has no entries, write entries below it, or delete the key",
    ]
