"""The drawing as a person reads it in a terminal."""

from __future__ import annotations

import pytest

from engine.flow.draw.cells import cells
from engine.flow.draw.layout import laid_out
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.text import text_lines
from engine.flow.model import Flow
from tests.engine.flow.draw.made import drawn, flow, main_flow, step
from tests.engine.flow.small import FLOW, load

WIDTHS = (40, 60, 80, 120)


# Reasoned by hand: what ends the job goes beside, what goes on goes down.
SMALL = """\
1  The day
│  asks 4
├─ A  if Contamination is Sealant or Air:
│  2  Stop
│  │  ■ PROVED: Wrong gas
│  └─ → on at 7 Caps on
│  on if it cannot be told, or otherwise
3  Baseline
"""


def test_titles_notes_and_ways() -> None:
    text = drawn(load())
    assert text.startswith(SMALL)
    for line in (
        "├─ A  if Contamination is Sealant or Air:",
        "│  2  Stop",
        "│  │  ■ PROVED: Wrong gas",
        "│  on if it cannot be told, or otherwise",
        "→ LOAD MODERATE: Baseline, settle 2 min",
        "↑ LOAD RAISED: Loaded, settle 3 min",
        "▲ DANGER 1, WARNING 1, CAUTION 1, NOTICE 1",
        "exposed: rotating, pressurised",
        "↻ at most 2 times",
        "after 2 times",
        "only while in question: Weak or Stuck",
        "can rule out 1 finding",
        "↩ back to the step that was interrupted",
        "■ END of the job",
        "if High side at least Limit:",
        "if High side at least Limit, once more",
    ):
        assert line in " ".join(text.split()) or line in text, line


def test_what_a_step_can_hold_back_is_counted() -> None:
    text = drawn(load(FLOW.replace("rule_out: [stuck]", "hold_back: [stuck, weak]")))
    assert "can hold back 2 findings" in text
    assert "can rule out" not in text


def test_conditions_in_words() -> None:
    text = " ".join(drawn(load(), 400).split())
    assert "if Ambient under 18 degC and Duty (Loaded) is not known: ↺ back to" in text


def test_a_notice_alone_is_no_alert() -> None:
    text = drawn(flow(step("a", conclude=("weak",), cautions=("note",))))
    assert "! NOTICE 1" in text
    assert "▲" not in text


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("made", [main_flow(), load()], ids=["main", "small"])
def test_no_line_is_too_wide_or_ends_in_blanks(made: Flow, width: int) -> None:
    for line in text_lines(laid_out(made), width):
        assert cells(str(line)) <= width
        assert str(line) == str(line).rstrip()


def test_every_step_begins_on_a_line_of_its_own_by_its_number() -> None:
    made = main_flow()
    plan = laid_out(made)
    begun = {line.step: str(line) for line in text_lines(plan, 80) if line.step}
    assert begun.keys() == made.steps.keys()
    for id, number in plan.numbers.items():
        assert f"{number}  " in begun[id]


def test_a_branch_ends_where_its_line_ends() -> None:
    made = flow(
        step("a", [("x", "b"), ("", "c")]), step("b", "d"), step("c", "d"), step("d", conclude=("weak",))
    )
    assert drawn(made) == BRANCH_ENDS


BRANCH_ENDS = """\
1  A
├─ A  if x:
│  2  B
│  └─ → on at 4 D
│  on if it cannot be told, or otherwise
3  C
4  D
   ■ CONCLUDES: Weak compressor · ■ END of the job
"""


FORK = flow(
    step("a", [("x", "b"), ("", "c")]),
    step("b", conclude=("weak",)),
    step("c", "d"),
    step("d", conclude=("weak",)),
)


def test_the_path_of_a_job() -> None:
    path = Overlay("The path.", {"a": 2, "c": 1}, {("a", "c"): 1}, here="c")
    lines = drawn(FORK, 80, path).splitlines()
    assert lines[:2] == ["✓2 1  A", "   ├─ A  if x:"]
    assert "✓  │  on if it cannot be told, or otherwise" in lines
    assert [line for line in lines if "▸" in line] == ["▸  3  C"]
    assert "   4  D" in lines


def test_the_traffic_of_a_trial() -> None:
    traffic = Overlay("Traffic.", {"a": 1200, "c": 1200}, {("a", "c"): 1200}, vehicles=1200)
    lines = drawn(FORK, 80, traffic).splitlines()
    assert lines[:3] == ["1,200 ┊ 1  A", "    0 ┊ ├─ A  if x:", "    0 ┊ │  2  B"]
    assert "1,200 ┊ │  on if it cannot be told, or otherwise" in lines
    assert "1,200 ┊ 3  C" in lines


def test_the_overlay_says_what_it_is() -> None:
    heading = [str(line) for line in text_lines(laid_out(FORK), 80, Overlay("Whose path this is."))]
    assert "Whose path this is." in heading[:8]


def test_deep_branches_stay_readable() -> None:
    steps = [step(f"s{n}", [("x", f"s{n + 1}"), ("y", f"e{n}"), ("", "end")]) for n in range(60)]
    ends = [step(f"e{n}", f"f{n}") for n in range(60)] + [step(f"f{n}", "end") for n in range(60)]
    made = flow(*steps, *ends, step("s60", "end"), step("end", conclude=("weak",)))
    for width in WIDTHS:
        assert max(cells(str(line)) for line in text_lines(laid_out(made), width)) <= width
