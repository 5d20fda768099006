"""The finding screen: what it tells, what its keys do, and that it scrolls and fits."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from textual.widgets import Input

from engine.flow.model import Finding
from engine.job.state import Conclusion, Ranked
from tests.tui import sample
from tests.tui.bare import BareApp
from tui import themes
from tui.screens.cycle import CycleScreen
from tui.screens.finding import FindingScreen
from tui.screens.sheet import SheetScreen
from tui.units import Units
from tui.widgets.evidence import bar, evidence_lines, sureness
from tui.widgets.lines import LineView
from tui.widgets.remedy import ALWAYS, remedy_lines

FLOW = sample.flow()


def evidence(conclusion: Conclusion, width: int = 80) -> list[str]:
    return [line.plain for line in evidence_lines(FLOW, conclusion, width)]


def remedy(conclusion: Conclusion, width: int = 80) -> list[str]:
    return [line.plain for line in remedy_lines(FLOW, conclusion, width)]


def after(lines: list[str], heading: str) -> list[str]:
    """The lines below a heading, up to the next blank line."""
    start = lines.index(heading) + 1
    stop = next((place for place in range(start, len(lines)) if not lines[place]), len(lines))
    return lines[start:stop]


def screen(conclusion: Conclusion, **walk: Any) -> FindingScreen:
    """The screen over a session that has concluded; of a session it reads only these two."""
    state = sample.walk(conclusion=conclusion, **walk)
    return FindingScreen(SimpleNamespace(walk=state, conclusion=conclusion), Units())  # type: ignore[arg-type]


def seen(app: BareApp) -> str:
    return "\n".join(view.text for view in app.screen.query(LineView))


def test_candidates_are_ranked_with_bars_and_probabilities() -> None:
    assert after(evidence(sample.SETTLED), "HOW LIKELY") == [
        f"1. {bar(0.84, 16)} 84 %       The compressor does not pump what it is told to",
        f"2. {bar(0.12, 16)} 12 %       Too little refrigerant",
        "   under 1 % each: The stroke valve is stuck low",
    ]


def test_narrow_the_title_stands_above_its_bar() -> None:
    assert after(evidence(sample.SETTLED, 60), "HOW LIKELY")[:4] == [
        "1. The compressor does not pump what it is told to",
        f"   {bar(0.84, 16)} 84 %",
        "2. Too little refrigerant",
        f"   {bar(0.12, 16)} 12 %",
    ]


def test_the_second_keeps_its_bar_however_unlikely() -> None:
    sure = Conclusion("undercharge", "weigh-up", ranked=(Ranked("undercharge", 0.999, (), ()), _TINY, _TINY))
    told = after(evidence(sure), "HOW LIKELY")
    assert told[1] == f"2. {bar(0.0005, 16)} under 1 %  The stroke valve is stuck low"
    assert told[2] == "   under 1 % each: The stroke valve is stuck low"


_TINY = Ranked("stroke-valve-stuck-low", 0.0005, (), ())


def test_the_four_largest_signs_each_way_stand_under_the_first_two() -> None:
    told = after(evidence(sample.SETTLED), "WHAT SPEAKS FOR AND AGAINST")
    assert told == [
        "1. The compressor does not pump what it is told to",
        "   + for 12 to 1: full command proved, little pressure rise",
        "   + for 5 to 1: low side high at low blower",
        "   + for 3 to 1: superheat is normal",
        "   + for 2 to 1: discharge hot",
        "   − against 1 to 2: no noise",
        "2. Too little refrigerant",
        "   − against 1 to 5: subcooling is there",
    ]


def test_what_was_ruled_out_tells_where_and_why() -> None:
    assert after(evidence(sample.SETTLED, 100), "RULED OUT") == [
        "✕ Air in the system, at Pressures at rest: the pressure at rest is on the line"
    ]


def test_a_second_fault_is_told() -> None:
    told = after(evidence(sample.SETTLED), "ALSO")
    assert told[0].startswith("Air in the system. ")
    assert any("+ for 6 to 1: the high side stands over its band" in line for line in told)


def test_a_proof_shows_its_step_and_no_probability() -> None:
    assert sureness(FLOW, sample.PROVED) == "proved by: Which way"
    assert not any("%" in line for line in evidence(sample.PROVED))


def test_an_open_question_says_how_far_the_best_is_from_a_finding_and_offers_no_repair() -> None:
    text = " ".join(evidence(sample.INCONCLUSIVE, 200))
    assert "The best, Too little refrigerant, reaches 51 %; a finding is named from 60 %." in text
    told = remedy(sample.INCONCLUSIVE)
    assert told[0] == "MEASURE NEXT"
    assert "REPAIR" not in told
    assert after(told, "TO SETTLE: TOO LITTLE REFRIGERANT") == ["1. Recover and weigh."]


@pytest.mark.parametrize(
    ("conclusion", "sentence"),
    [
        (
            Conclusion("inconclusive", "weigh-up", ranked=(Ranked("undercharge", 0.65, (), ()),)),
            "does not lead the second by 2 to 1",
        ),
        (Conclusion("inconclusive", "weigh-up"), "Every candidate was ruled out"),
        (
            Conclusion("inconclusive", "weigh-up", outside="solenoid-open"),
            "Something outside the candidates explains the readings far better",
        ),
    ],
)
def test_each_reason_for_an_open_question_has_its_sentence(conclusion: Conclusion, sentence: str) -> None:
    assert sentence in " ".join(evidence(conclusion, 200))


def test_a_finding_outside_the_candidates_is_shown() -> None:
    conclusion = Conclusion("inconclusive", "weigh-up", outside="solenoid-open")
    assert after(evidence(conclusion), "OUTSIDE THE CANDIDATES")[0].startswith("The solenoid is open.")


def test_a_procedure_cut_short_says_that_it_rests_on_less() -> None:
    cut = dataclasses.replace(sample.SETTLED, interrupted=True)
    assert any(line.startswith("! A limit was passed") for line in evidence(cut))
    assert not any(line.startswith("! A limit") for line in evidence(sample.SETTLED))


def test_the_missing_reading_tells_its_set_what_it_parts_and_how_to_take_it() -> None:
    told = after(remedy(sample.SETTLED, 200), "MEASURE NEXT")
    assert told == [
        "Suction-line temperature, Load raised: it would part "
        "The compressor does not pump what it is told to from Too little refrigerant.",
        "Clamp the probe on the line near the compressor and wrap it.",
    ]


def test_confirm_rivals_repair_verify_and_note_follow_in_this_order() -> None:
    told = remedy(sample.SETTLED)
    headings = [line for line in told if line and line == line.upper()]
    assert headings == [
        "MEASURE NEXT",
        "CONFIRM",
        "RIVALS, AND WHAT PARTS THEM",
        "REPAIR",
        "VERIFY",
        "NOTE",
    ]
    assert after(told, "CONFIRM")[0] == "1. Recover, weigh and refill to the label."
    assert after(told, "RIVALS, AND WHAT PARTS THEM") == [
        "• The stroke valve is stuck low: Pull the valve and look at its screens."
    ]


def test_a_finding_without_a_note_still_defers_to_the_maker() -> None:
    assert ALWAYS in remedy(sample.PROVED, 120)


def test_a_finding_the_flow_does_not_declare_is_named_by_its_id() -> None:
    told = evidence(Conclusion("made-up", "weigh-up", ranked=(Ranked("made-up", 0.9, (), ()),)), 40)
    assert after(told, "HOW LIKELY")[0] == "1. made-up"


@pytest.mark.parametrize(
    ("probability", "drawn"),
    [(0.0, "····"), (1.0, "████"), (0.5, "██··"), (0.625, "██▌·"), (1.7, "████"), (-1.0, "····")],
)
def test_bars_have_their_width_and_show_what_is_missing(probability: float, drawn: str) -> None:
    assert bar(probability, 4) == drawn


@pytest.mark.parametrize("size", [(80, 24), (40, 15), (100, 30), (160, 50)])
async def test_everything_is_reached_by_scrolling_at_every_size(size: tuple[int, int]) -> None:
    app = BareApp(screen(sample.SETTLED))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        body = app.screen.query_one("#finding-body")
        assert "probability 84 %" in seen(app)
        await pilot.press("end")
        await pilot.pause()
        assert body.scroll_offset.y == body.max_scroll_y
        assert body.max_scroll_x == 0
        last = app.screen.query_one("#remedy").region
        assert last.bottom <= body.region.bottom


async def test_wide_the_remedy_stands_beside_the_evidence() -> None:
    for size, beside in (((160, 50), True), ((80, 24), False)):
        app = BareApp(screen(sample.SETTLED))
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            left, right = app.screen.query_one("#evidence").region, app.screen.query_one("#remedy").region
            assert (right.x > left.right - 1) is beside


async def test_an_open_question_leads_with_what_to_measure() -> None:
    app = BareApp(screen(sample.INCONCLUSIVE))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        head = app.screen.query_one("#finding-head", LineView).text
        assert head.splitlines() == [
            "■ Inconclusive: the readings do not settle it",
            "  measure next: Suction-line temperature, Load raised",
        ]


async def test_a_conclusion_of_another_version_stands_first_and_what_differs_beside_it() -> None:
    session = SimpleNamespace(walk=sample.walk(conclusion=sample.PROVED), conclusion=sample.SETTLED)
    app = BareApp(FindingScreen(session, Units()))  # type: ignore[arg-type]
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.pause()
        head = app.screen.query_one("#finding-head", LineView).text.splitlines()
        assert head[0] == "■ The compressor does not pump what it is told to"
        assert "With this version the same answers give: The solenoid is open." in " ".join(
            " ".join(head).split()
        )
        told = app.screen.query_one("#evidence", LineView).text.splitlines()
        assert told.index("HOW LIKELY") < told.index("AS THIS VERSION CONCLUDES: THE SOLENOID IS OPEN")
        assert after(told, "AS THIS VERSION CONCLUDES: THE SOLENOID IS OPEN")[0] == "proved by: Which way"


@pytest.mark.parametrize(("key", "result"), [("enter", True), ("escape", False)])
async def test_enter_goes_on_and_escape_goes_back(key: str, result: bool) -> None:
    app = BareApp(screen(sample.SETTLED))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert app.results == [result]


async def test_the_picture_opens_from_the_finding() -> None:
    app = BareApp(screen(sample.SETTLED))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert isinstance(app.screen, CycleScreen)


async def test_the_sheet_dialog_opens_from_the_finding(tmp_path: Path) -> None:
    shown = screen(sample.SETTLED)
    shown._session.store = SimpleNamespace(file=tmp_path / "store.db")  # type: ignore[misc, assignment]
    shown._session.job, shown._session.is_draft = 7, False  # type: ignore[misc]
    app = BareApp(shown)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert isinstance(app.screen, SheetScreen)
        assert app.screen.query_one(Input).value == str(tmp_path / "sheets" / "job-7.html")


async def test_text_of_the_flow_is_literal() -> None:
    hostile = Finding("weak-compressor", "[red]Weak[/red]", "[bold]means[/] \x1b[2Jit")
    flow = sample.flow(findings={**FLOW.findings, "weak-compressor": hostile})
    app = BareApp(screen(sample.SETTLED, flow=flow))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        text = seen(app)
        assert "■ [red]Weak[/red]" in text
        assert "[bold]means[/] it" in text
        assert "\x1b" not in text


@pytest.mark.parametrize("theme", themes.NAMES)
async def test_it_survives_one_cell_and_back_in_every_theme(theme: str) -> None:
    app = BareApp(screen(sample.SETTLED), theme)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        before = seen(app)
        for size in ((1, 1), (2, 5), (40, 15), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert seen(app) == before
