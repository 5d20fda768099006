"""The lines on top, the settle bar and the cautions, word by word."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from engine.flow.load import load_path
from engine.flow.model import Caution
from engine.job.events import ANSWERED, CANNOT_MEASURE
from engine.job.state import Answer
from engine.job.walk import Walk, advance, begin
from tests.tui.bare import BareApp
from tests.tui.conftest import SMALL
from tui.asking import Mode, asking, duration, range_words
from tui.heads import phase_line, step_number, top_line
from tui.units import Units
from tui.widgets.settle_bar import SettleBar
from tui.widgets.signals import caution_lines, caution_words
from tui.widgets.step_card import card_lines


def small_walk(answers: Mapping[str, object] | None = None) -> Walk:
    walk = begin(load_path(SMALL))
    for value in (answers or {}).values():
        assert walk.prompt is not None
        kind = CANNOT_MEASURE if value is None else ANSWERED
        walk = advance(walk, Answer(kind, walk.prompt.key, value))  # type: ignore[arg-type]
    return walk


FIRST_STEP = {"drive": "belt", "contamination": frozenset({"air"}), "ambient_temperature": None}


def test_the_phase_counts_steps_and_names_the_set() -> None:
    assert phase_line(small_walk()) == "step 1 · visit 1"
    walk = small_walk(FIRST_STEP)
    assert step_number(walk) == 2
    assert phase_line(walk) == "step 2 · Baseline · visit 1"


@pytest.mark.parametrize(
    ("width", "line"),
    [
        (70, "Does the small system answer to load?             job 7 · psi degF"),
        (44, "Does the small system ans…  job 7 · psi degF"),  # 26 cells of title, 18 of the rest
        (20, "Does the small syst…"),
    ],
)
def test_the_top_line_gives_up_the_title_before_the_job(width: int, line: str) -> None:
    drawn = top_line(small_walk(), "job 7", Units(), False, width).plain
    assert drawn.split() == line.split()
    assert len(drawn) <= width


def test_a_learner_is_told_so() -> None:
    assert top_line(small_walk(), "job 7", Units(), True, 80).plain.endswith("psi degF · learner")


@pytest.mark.parametrize(("seconds", "words"), [(0, "0:00"), (5, "0:05"), (180, "3:00"), (-3, "0:00")])
def test_seconds_are_told_as_a_clock(seconds: float, words: str) -> None:
    assert duration(seconds) == words


def test_what_is_usual_is_told_in_the_units_of_the_person() -> None:
    reading = load_path(SMALL).readings["ambient_temperature"]
    # -10 degC and 50 degC are 14 degF and 122 degF by definition of the scales.
    assert range_words(reading, Units("psi degF")) == "Usually 14 degF to 122 degF."
    assert range_words(reading, Units("bar degC")) == "Usually -10 degC to 50 degC."


def test_every_prompt_has_its_words() -> None:
    first = asking(small_walk(), Units())
    assert (first.mode, first.title, first.count) == (Mode.ENTRY, "Compressor drive", "1 of 3")
    cautions = asking(small_walk(FIRST_STEP), Units())
    assert (cautions.mode, cautions.accept, cautions.cannot) == (Mode.READ_CAUTIONS, "I have read this", "")


def test_the_card_of_a_step_with_cautions_shows_nothing_else_until_they_are_read() -> None:
    text = "\n".join(line.plain for line in card_lines(small_walk(FIRST_STEP), 60))
    assert "▲ DANGER" in text
    assert "Leave the engine off" not in text


async def test_the_settle_bar_says_in_words_what_it_draws() -> None:
    bar = SettleBar()
    app = BareApp(bar)
    async with app.run_test(size=(60, 5)):
        bar.show(90, 180)
        drawn = bar.render().plain
        assert drawn.endswith("1:30 left of 3:00")
        assert abs(drawn.count("█") - drawn.count("░")) <= 1
        bar.show(0, 180)
        assert "░" not in bar.render().plain
        assert bar.words == "3:00 are over"


HAZARD = Caution("hot-parts", "WARNING", "Hot.\x1b[31m [bold]Keep off.[/]", "made up")


def test_a_caution_has_its_word_its_sign_and_its_text_literally() -> None:
    lines = [line.plain for line in caution_lines([HAZARD], 40)]
    assert lines == [" ▲ WARNING ", "┃ Hot. [bold]Keep off.[/]", "┃ Source: made up"]


def test_a_notice_is_no_safety_alert() -> None:
    # ANSI Z535.4: the safety alert symbol does not stand with NOTICE.
    notice = Caution("label", "NOTICE", "Read the label.", "")
    assert caution_lines([notice], 40)[0].plain == " ! NOTICE "


@pytest.mark.parametrize("width", [8, 12, 40])
def test_cautions_read_before_are_words_on_few_lines(width: int) -> None:
    lines = [line.plain for line in caution_words([HAZARD], width)]
    assert lines[0].startswith(" ▲ WARNING ")
    assert "hot" in " ".join(lines)
