"""The walk screen by keyboard: what is asked, what is shown, what is on disk."""

from __future__ import annotations

import pytest

from engine.job import events as kinds
from engine.job.store import Store
from tests.tui.reading import shown
from tests.tui.walking import person
from tui.screens.finding import FindingScreen
from tui.screens.question import Question
from tui.screens.start import StartScreen


def kinds_of(events: list[kinds.Event]) -> list[str]:
    """Without what is half typed: whether that is kept hangs on how slow the machine is."""
    return [event.kind for event in events if event.kind != kinds.DRAFT]


async def test_the_first_step_says_what_why_and_how(store: Store) -> None:
    async with person(store) as p:
        for text in (
            "Does the small system answer to load?",
            "step 1 · visit 1",
            "Look first",
            "Look at the drive before anything is touched.",
            "Why",
            "2. Look for orange cables.",
            "Compressor drive  1 of 3",
            "Look, touch nothing.",
            "1  Belt",
            "2  Electric motor",
        ):
            assert text in p.seen


async def test_a_whole_job_by_keyboard(store: Store) -> None:
    async with person(store) as p:
        await p.enter("electric", "2, 3", "25 degC")
        assert p.at == ("base", 1, "(cautions)")
        await p.enter("", "31", "150")
        assert p.at == ("raise", 1, "(cautions)")
        await p.enter("", "")
        assert p.at == ("raise", 1, "(settle)")
        p.clock.move(180)
        await p.enter("", "35 psi", "200")
        assert isinstance(p.app.screen, FindingScreen)
        assert "It answers to load" in p.seen
        await p.press("enter")
        assert p.at == ("caps", 1, "(done)")
        assert "making safe" in p.seen
        await p.press("enter")
        assert isinstance(p.app.screen, Question)
        assert "Finding: It answers to load." in p.seen
        job, walk = p.session.job, p.session.walk
        await p.press("4")
        assert isinstance(p.app.screen, StartScreen)
        assert walk.status == "finished"
    events = [event for event in store.events(job) if event.kind != kinds.DRAFT]
    assert kinds_of(events) == [
        "started",
        *["answered"] * 3,
        "acknowledged",
        *["answered"] * 2,
        "acknowledged",
        "set-begun",
        "settled",
        *["answered"] * 2,
        "concluded",
        "done",
        "finished",
    ]
    readings = {
        event.item: event for event in events if event.step == "raise" and event.kind == kinds.ANSWERED
    }
    # 35 psi and 200 psi by NIST SP 811: 1 psi = 6894.757 Pa.
    assert readings["low_side"].value == pytest.approx(35 * 6894.757, rel=1e-6)
    assert (readings["low_side"].text, readings["high_side"].unit) == ("35 psi", "psi")
    assert events[1].value == "electric"
    assert events[2].value == ("air", "sealant")
    assert events[3].value == pytest.approx(298.15)
    assert events[9].detail == {"waited": 180.0, "kept": True}


async def test_cautions_must_be_read_before_the_entry_opens(store: Store) -> None:
    async with person(store) as p:
        await p.to_baseline()
        text = p.seen
        assert "▲ DANGER" in text
        assert "▲ WARNING" in text
        assert text.index("DANGER") < text.index("WARNING")
        assert "The belt catches sleeves and hair." in text
        assert "Leave the engine off" not in text  # not before the cautions
        await p.type("31")
        assert p.at == ("base", 1, "(cautions)")
        assert p.line.display is False
        await p.press("f2")
        assert p.at == ("base", 1, "(cautions)")
        assert "cannot be passed over" in p.seen
        await p.press("enter")
        assert p.at == ("base", 1, "low_side")
        assert p.line.text == ""
        assert "Leave the engine off" in p.seen
        assert "▲ DANGER" in p.seen  # kept as a reminder


async def test_long_cautions_are_scrolled_through_before_enter_counts(store: Store) -> None:
    async with person(store, size=(40, 10)) as p:
        await p.to_baseline()
        pressed = 0
        while p.at == ("base", 1, "(cautions)"):
            await p.press("enter")
            pressed += 1
        assert pressed > 1
        assert p.at == ("base", 1, "low_side")


async def test_cannot_measure_is_one_key_and_goes_on(store: Store) -> None:
    async with person(store) as p:
        await p.type("1")
        await p.press("f2")
        assert p.at == ("arrive", 1, "contamination")
        assert p.events[-1].kind == kinds.CANNOT_MEASURE
        assert p.line.text == ""


async def test_the_settle_time_runs_shows_the_rule_and_is_kept(store: Store) -> None:
    async with person(store) as p:
        await p.to_raised()
        await p.press("enter")
        assert "Engine at 1500 1/min." in p.seen
        assert "settle time of 3:00 min" in " ".join(p.asked.split())
        await p.press("enter")
        assert "3:00 left of 3:00" in p.seen
        assert "Settled means the gauges stand still for a minute." in p.seen
        assert "Warm moist air makes" in p.seen
        p.clock.move(100)
        assert await p.sees("1:20 left of 3:00")
        await p.press("enter")
        assert p.at == ("raise", 1, "(settle)")
        assert "Not settled yet" in p.seen
        p.clock.move(80)
        assert await p.sees("3:00 are over")
        await p.press("enter")
        assert p.at == ("raise", 1, "low_side")
        assert p.events[-1].detail == {"waited": 180.0, "kept": True}


async def test_reading_without_waiting_is_noted(store: Store) -> None:
    async with person(store) as p:
        await p.to_raised()
        await p.press("enter", "enter")
        p.clock.move(20)
        await p.press("f2")
        assert p.at == ("raise", 1, "low_side")
        assert p.events[-1].detail == {"waited": 20.0, "kept": False}


async def test_a_load_that_cannot_be_set_skips_the_step(store: Store) -> None:
    async with person(store) as p:
        await p.to_raised()
        await p.press("enter", "f2")
        assert kinds.SKIPPED in kinds_of(p.events)
        assert p.session.walk.conclusion is not None


async def test_undo_brings_the_prompt_back_with_what_was_typed(store: Store) -> None:
    async with person(store) as p:
        await p.enter("1", "2", "77")
        await p.press("f8")
        assert p.at == ("arrive", 1, "ambient_temperature")
        assert p.line.text == "77"
        assert p.line.echo == "= 77 degF"
        assert kinds_of(p.events)[-1] == kinds.WITHDRAWN
        await p.press("f8", "f8", "f8")
        assert p.at == ("arrive", 1, "drive")
        assert "There is nothing to take back." in p.seen


async def test_an_implausible_value_is_kept_by_a_second_enter(store: Store) -> None:
    async with person(store) as p:
        await p.enter("1", "1", "200")
        assert p.at == ("arrive", 1, "ambient_temperature")
        assert "unusual" in p.seen
        await p.press("enter")
        assert p.at == ("base", 1, "(cautions)")


async def test_units_change_everything_shown_and_keep_what_is_half_typed(store: Store) -> None:
    async with person(store) as p:
        await p.to_baseline()
        await p.enter("", "31")
        await p.type("12")
        await p.press("f3")
        text = p.seen
        assert "kPa degC" in text
        assert "Usually 0 kPa to 3103 kPa." in text  # 450 psi is 3102.6 kPa
        assert p.line.text == "12"
        assert p.line.echo.startswith("= 12 kPa gauge")
        assert "214" in text  # 31 psi on the board
        await p.press("enter")
        assert p.events[-1].unit == "kPa"
        assert p.events[-1].value == pytest.approx(12000.0)


async def test_help_shows_the_step_its_cautions_and_every_key(store: Store) -> None:
    async with person(store, size=(100, 60)) as p:
        await p.to_baseline()
        await p.press("enter", "f1")
        text = p.seen
        for word in ("THIS STEP", "Take the baseline", "THIS READING", "No low side is judged.", "CAUTIONS"):
            assert word in text
        assert "The belt catches sleeves and hair." in text
        for key in ("F2", "F4", "F8", "Ctrl+P", "Esc"):
            assert key in text
        await p.press("escape")
        assert "Low-side gauge" in p.asked


async def test_text_of_the_flow_is_literal(store: Store) -> None:
    async with person(store) as p:
        step = p.session.walk.step
        assert step is not None
        await p.press("f6")
        await p.type("[bold red]x[/]")
        await p.press("enter")
        assert p.events[-1].kind == kinds.NOTED
        assert p.events[-1].text == "[bold red]x[/]"
        assert "The note is kept with the job." in shown(p.app)


async def test_esc_leaves_the_job_and_the_start_screen_offers_it(store: Store) -> None:
    async with person(store) as p:
        await p.enter("1")
        await p.type("2, 3")
        job = p.session.job
        await p.press("escape")
        await p.pilot.pause()
        assert isinstance(p.app.screen, StartScreen)
        assert "RESUME" in p.seen
        await p.press("1")
        for _ in range(50):
            await p.pilot.pause(0.02)
            if p.app.session is not None:
                break
        await p.pilot.pause()
        assert p.session.job == job
        assert p.at == ("arrive", 1, "contamination")
        assert p.line.text == "2, 3"
        assert p.line.echo == "= Air, Sealant"


async def test_the_finding_cannot_be_shown_before_there_is_one(store: Store) -> None:
    async with person(store) as p:
        await p.press("f7")
        assert "There is no finding yet." in p.seen


async def test_the_mouse_can_do_it_too(store: Store) -> None:
    async with person(store) as p:
        await p.pilot.click("#choices", offset=(6, 0))
        await p.pilot.pause()
        assert p.at == ("arrive", 1, "contamination")
        await p.pilot.click("#tap-cannot")
        await p.pilot.pause()
        assert p.at == ("arrive", 1, "ambient_temperature")
        await p.type("77")
        await p.pilot.click("#tap-accept")
        await p.pilot.pause()
        assert p.at == ("base", 1, "(cautions)")
        await p.pilot.click("#tap-accept")
        await p.pilot.pause()
        assert p.at == ("base", 1, "low_side")


async def test_typing_reaches_the_entry_from_anywhere(store: Store) -> None:
    async with person(store) as p:
        p.walk.query_one("#trail").focus()
        await p.pilot.pause()
        await p.type("2")
        assert p.line.echo == "= Electric motor"
        await p.press("enter")
        assert p.at == ("arrive", 1, "contamination")
