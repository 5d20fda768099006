"""Opening a draft at any step, with facts; which answers fit the next one."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from engine.job.draft.opening import Draft, DraftErrors, OpenDraft, open_draft
from engine.job.events import ANSWERED, STARTED
from engine.job.session import Session
from engine.job.session.session import utc_now
from engine.job.store import Store
from engine.job.walk import Walk

SMALL = Path(__file__).parents[3] / "tui" / "flows" / "small.yaml"

FACTS = """\
format: 1
facts:
  drive: belt
  ambient_temperature: 25 degC
  baseline: {low_side: 77, high_side: 80 psi}
  loaded: {low_side: 30, high_side: 150, read_after: 20 s}
"""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A draft of one's own of the small flow, its caution in a part."""
    text = SMALL.read_text()
    caution = next(line for line in text.splitlines(keepends=True) if line.startswith("  burst:"))
    text = text.replace(caution, "").replace("start:", "use: [parts/own.yaml]\nstart:")
    (tmp_path / "small.yaml").write_text(text)
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "own.yaml").write_text("cautions:\n" + caution)
    (tmp_path / "facts.yaml").write_text(FACTS)
    return tmp_path / "small.yaml"


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))


def opened(flow: Path, step: str = "", facts: str = "") -> OpenDraft:
    return open_draft(Draft(flow, step, facts), set())


def known(walk: Walk) -> dict[str, object]:
    return dict(walk.facts.known())


def test_it_begins_at_the_start_with_nothing_known(small: Path) -> None:
    first = opened(small).first
    assert first.prompt is not None
    assert first.prompt.step == "arrive"
    assert known(first) == {}


def test_every_file_that_was_read_is_listed(small: Path) -> None:
    paths: set[Path] = set()
    open_draft(Draft(small, facts=str(small.parent / "facts.yaml")), paths)
    assert paths >= {small, small.parent / "parts" / "own.yaml", small.parent / "facts.yaml"}


def test_a_part_that_is_missing_is_listed_too(small: Path) -> None:
    part = small.parent / "parts" / "own.yaml"
    part.unlink()
    paths: set[Path] = set()
    with pytest.raises(DraftErrors, match=r"small\.yaml:\d+:\d+: there is no file 'parts/own.yaml'"):
        open_draft(Draft(small), paths)
    assert part in paths


def test_begun_at_a_step_the_facts_before_it_are_known_and_those_of_it_are_offered(small: Path) -> None:
    draft = opened(small, "raise", str(small.parent / "facts.yaml"))
    assert draft.first.prompt is not None
    assert draft.first.prompt.step == "raise"
    found = known(draft.first)
    assert set(found) == {"drive", "ambient_temperature", "baseline.low_side", "baseline.high_side"}
    assert found["ambient_temperature"] == pytest.approx(298.15)
    assert draft.offered["loaded.low_side"].text == "30"


def test_a_set_read_before_counts_as_settled_unless_the_facts_say_it_was_read_early(small: Path) -> None:
    facts = str(small.parent / "facts.yaml")
    assert known(opened(small, "weigh", facts).first)["loaded.settled"] == "no"
    change(Path(facts), ", read_after: 20 s", "")
    assert known(opened(small, "weigh", facts).first)["loaded.settled"] == "yes"


def test_without_facts_what_is_before_is_unknown(small: Path) -> None:
    assert known(opened(small, "raise").first) == {}


def test_a_step_there_is_not_is_told_with_a_hint(small: Path) -> None:
    with pytest.raises(DraftErrors) as caught:
        opened(small, "rise")
    assert caught.value.lines == (f"{small}: there is no step 'rise' to begin at, did you mean 'raise'?",)


def test_facts_that_no_longer_fit_are_told_and_the_rest_is_offered(small: Path) -> None:
    change(small, "belt: Belt,", "rope: Rope,")
    draft = opened(small, facts=str(small.parent / "facts.yaml"))
    assert [each.where for each in draft.stale] == [f"{small.parent}/facts.yaml:3:10"]
    assert "drive" not in draft.offered
    assert "ambient_temperature" in draft.offered


def test_a_draft_is_the_same_until_a_byte_changes(small: Path) -> None:
    before = opened(small)
    assert opened(small).same_as(before)
    assert not before.same_as(None)
    change(small, "Look first", "Look at first")
    assert not opened(small).same_as(before)


# Which answers fit


async def _answered(store: Store, draft: OpenDraft) -> Session:
    """Past the first step and one reading into the baseline."""
    session = await Session.of_draft(store, draft)
    for text, unit in (("belt", ""), ("none", ""), ("77", "degF")):
        await session.answer(text, unit)
    await session.acknowledge()
    await session.answer("41", "psi")
    return session


async def _after(change_of: tuple[str, str], small: Path) -> Session:
    with Store.scratch() as store:
        before = await _answered(store, opened(small))
        change(small, *change_of)
        return await Session.of_draft(store, opened(small), before.events)


def _at(session: Session) -> tuple[str, str]:
    prompt = session.walk.prompt
    assert prompt is not None
    return prompt.step, prompt.item


AMBIENT = "quantity: temperature, label: Ambient air, unit: degC, plausible: -10 to 50 degC"
RECORD = "record: [low_side, high_side]\n    next: raise"


@pytest.mark.parametrize(
    ("old", "new", "at"),
    [
        ("Look first", "Look at it", ("base", "high_side")),
        ("unit: psi, plausible: -15", "unit: bar, plausible: -15", ("base", "high_side")),
        ("belt: Belt,", "chain: Chain,", ("arrive", "drive")),
        (AMBIENT, "quantity: ratio, label: Dampness, unit: percent", ("arrive", "ambient_temperature")),
        (AMBIENT, AMBIENT + ", possible: 30 to 50 degC", ("arrive", "ambient_temperature")),
        (AMBIENT, AMBIENT + ", possible: 20 to 50 degC", ("base", "high_side")),
        (RECORD, RECORD.replace("low_side, high_side", "high_side, low_side"), ("base", "high_side")),
        ("    cautions: [belt]\n", "", ("base", "high_side")),
        ("ask: [drive, contamination,", "ask: [drive, low_side, contamination,", ("arrive", "low_side")),
    ],
)
async def test_answers_are_kept_as_far_as_they_fit(
    small: Path, old: str, new: str, at: tuple[str, str]
) -> None:
    with Store.scratch() as store:
        before = await _answered(store, opened(small))
        change(small, old, new)
        assert _at(await Session.of_draft(store, opened(small), before.events)) == at


async def test_answers_to_a_step_that_went_come_back_with_it(small: Path) -> None:
    with Store.scratch() as store:
        before = await _answered(store, opened(small))
        whole = small.read_text()
        small.write_text(whole.replace("next: base", "next: basis").replace("\n  base:", "\n  basis:"))
        renamed = await Session.of_draft(store, opened(small), before.events)
        assert _at(renamed) == ("basis", "(cautions)")
        small.write_text(whole)
        again = await Session.of_draft(store, opened(small), renamed.events)
        assert _at(again) == ("base", "high_side")


async def test_what_was_concluded_is_concluded_anew(small: Path) -> None:
    with Store.scratch() as store:
        session = await Session.of_draft(store, opened(small, "weigh", str(small.parent / "facts.yaml")))
        assert session.conclusion is not None
        assert session.conclusion.finding == "healthy"
        change(
            small,
            "weighs: {healthy: [20, 0.05], weak: against strong}",
            "weighs: {weak: strong, healthy: against strong}",
        )
        facts = str(small.parent / "facts.yaml")
        again = await Session.of_draft(store, opened(small, "weigh", facts), session.events)
        assert again.conclusion is not None
        assert again.conclusion.finding == "weak"
        assert [event.kind for event in again.events].count(STARTED) == 1


async def test_nobody_is_asked_whether_the_load_of_a_draft_still_holds(small: Path) -> None:
    with Store.scratch() as store:
        session = await _answered(store, opened(small))
        later = utc_now() + timedelta(hours=2)
        assert (session.set_age(later) or 0) > 7000
        assert not session.needs_hold(later)


async def test_an_answer_taken_back_stays_taken_back(small: Path) -> None:
    with Store.scratch() as store:
        before = await _answered(store, opened(small))
        await before.undo()
        again = await Session.of_draft(store, opened(small), before.events)
        assert _at(again) == ("base", "low_side")
        assert ANSWERED in [event.kind for event in again.events]


async def test_a_walk_begun_at_a_step_stays_there_when_answers_are_taken_back(small: Path) -> None:
    with Store.scratch() as store:
        session = await Session.of_draft(store, opened(small, "base", str(small.parent / "facts.yaml")))
        await session.acknowledge()
        assert await session.undo()
        assert _at(session) == ("base", "(cautions)")
        assert "drive" in known(session.walk)
