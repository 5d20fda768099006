"""The trail as a person sees it."""

from __future__ import annotations

from engine.job.events import ANSWERED, CANNOT_MEASURE
from engine.job.state import RESUMED, SPENT, WENT, Answer, RuledOut, TrailEntry
from engine.job.walk import Walk
from tests.tui import sample
from tests.tui.bare import BareApp
from tui.units import Units
from tui.widgets.lines import LineView
from tui.widgets.trail import TrailPane, trail_lines


def drawn(walk: Walk, width: int = 60, units: str = "psi degF") -> list[str]:
    return [line.plain for line in trail_lines(walk, Units(units), width)]


def walk(**changes: object) -> Walk:
    parts: dict[str, object] = {"trail": sample.TRAIL, "ruled_out": sample.RULED_OUT, **changes}
    return sample.walk(**parts)  # type: ignore[arg-type]


def test_each_step_passed_tells_why_the_walk_went_on_as_it_did() -> None:
    lines = drawn(walk())
    place = lines.index("✓ Pressures at rest")
    assert lines[place + 1] == "  → liquid is there at rest"


def test_steps_not_needed_and_interrupted_say_so_in_words() -> None:
    lines = drawn(walk(), 80)
    assert "○ Wet the condenser" in lines
    assert "  → not needed: only air-in-system is still alive" in lines
    assert "! Baseline" in lines
    assert "  → interrupted: the high side passed its limit" in lines


def test_what_was_ruled_out_stands_under_the_step_that_did() -> None:
    lines = drawn(walk(), 80)
    place = lines.index("✓ Pressures at rest")
    assert lines[place + 2] == "  ✕ ruled out Air in the system: the pressure at rest is on the line"


def test_a_step_visited_twice_tells_its_ruling_out_once() -> None:
    again = (*sample.TRAIL, TrailEntry("at-rest", 2, WENT, "route", "read again"))
    lines = drawn(walk(trail=again), 80)
    assert sum("ruled out" in line for line in lines) == 1
    assert lines.index("✓ Pressures at rest (2)") < next(
        i for i, line in enumerate(lines) if "ruled out" in line
    )


def test_answers_about_the_job_are_told_in_the_persons_units() -> None:
    assert "  Ambient air: 85 degF; Refrigerant: R-134a" in drawn(walk(), 80)
    assert "  Ambient air: 29.4 degC; Refrigerant: R-134a" in drawn(walk(), 80, "kPa degC")


def test_cannot_measure_is_an_answer_too() -> None:
    key, other = ("weather", 1, "ambient_temperature"), ("weather", 1, "refrigerant")
    answered = {key: Answer(CANNOT_MEASURE, key), other: Answer(ANSWERED, other, "R-134a")}
    lines = drawn(walk(answered=answered), 80)
    assert lines[1:3] == ["  Refrigerant: R-134a", "  cannot measure: Ambient air"]


def test_the_present_step_is_last_with_its_visit() -> None:
    assert drawn(walk(visits={"raise-load": 2}))[-1] == "▸ Raise the heat load (2)"
    assert drawn(walk(visits={"raise-load": 1}))[-1] == "▸ Raise the heat load"


def test_a_finished_walk_says_so() -> None:
    finished = Walk(flow=sample.flow(), facts=sample.walk().facts, trail=sample.TRAIL)
    assert drawn(finished)[-1] == "■ The job is finished."


def test_going_back_and_giving_up_are_told() -> None:
    trail = (
        TrailEntry("stop-and-cool", 1, RESUMED, "baseline"),
        TrailEntry("baseline", 3, SPENT, "weigh-up"),
    )
    lines = drawn(walk(trail=trail), 80)
    assert "  → back to the step that was interrupted" in lines
    assert "  → tried often enough" in lines


def test_long_reasons_hang_under_their_arrow() -> None:
    ruled = {"air-in-system": RuledOut("air-in-system", "route", "word " * 20)}
    lines = drawn(walk(ruled_out=ruled), 30)
    place = next(i for i, line in enumerate(lines) if line.startswith("  ✕ ruled out"))
    assert lines[place + 1].startswith("    ")
    assert max(len(line) for line in lines) <= 30


async def test_the_pane_keeps_its_last_line_in_view() -> None:
    app = BareApp(TrailPane())
    async with app.run_test(size=(34, 8)) as pilot:
        pane = app.query_one(TrailPane)
        pane.show(walk(), Units())
        await pilot.pause()
        assert pane.max_scroll_y > 0
        assert pane.scroll_offset.y == pane.max_scroll_y
        for size in ((1, 1), (34, 8)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert app.query_one(LineView).text.splitlines()[-1] == "▸ Raise the heat load"
