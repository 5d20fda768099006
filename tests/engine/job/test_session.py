"""A job through a session: recorded, drafted, taken back, resumed."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS
from engine.job.entry import EntryError
from engine.job.events import (
    ACKNOWLEDGED,
    ANSWERED,
    CONCLUDED,
    DRAFT,
    FINISHED,
    INTERRUPTED,
    NOTED,
    PREDICTED,
    SET_BEGUN,
    STARTED,
    WITHDRAWN,
)
from engine.job.fold import trail
from engine.job.plain import conclusion_from_plain
from engine.job.session import Session
from engine.job.store import NewJob, Store
from tests.engine.job.made_up import BEGAN, HEALTHY, MILD_DAY, Clock, Player
from tests.pace import Paced


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        yield opened


async def begun(store: Store, texts: dict[str, str] | None = None, **options: object) -> Player:
    clock = Clock()
    session = await Session.start(store, MILD_DAY, clock=clock, **options)  # type: ignore[arg-type]
    return Player(session, clock, HEALTHY if texts is None else texts)


async def test_a_job_begins_with_the_flow_and_all_its_files_kept(store: Store) -> None:
    player = await begun(store, vehicle="blue estate", learner=True)
    session = player.session
    assert session.job == 1
    assert [one.kind for one in session.events] == [STARTED]
    assert session.events == store.events(1)
    kept = store.job(1)
    assert (kept.flow, kept.revision, kept.vehicle, kept.learner) == ("mild_day", 2, "blue estate", True)
    assert kept.flow_hash == session.flow.hash
    assert kept.created == BEGAN
    assert store.bundle(1).files == {"mild_day.yaml": MILD_DAY.path.read_bytes()}


async def test_the_walk_moves_only_once_the_answer_is_on_disk(store: Store) -> None:
    player = await begun(store)
    seen = []
    original = store.append

    def watched(job: int, number: int, event: object) -> object:
        assert player.session.walk.prompt is not None
        seen.append(player.session.walk.prompt.item)
        return original(job, number, event)  # type: ignore[arg-type]

    store.append = watched  # type: ignore[method-assign,assignment]
    await player.session.answer("R-134a", "")
    assert seen == ["refrigerant"]
    assert player.session.walk.prompt is not None
    assert player.session.walk.prompt.item == "ambient_temperature"
    [_, stored] = store.events(1)
    assert (stored.kind, stored.step, stored.item, stored.text) == (
        ANSWERED,
        "arrive",
        "refrigerant",
        "R-134a",
    )


async def test_a_number_is_kept_as_typed_with_its_unit_and_in_si(store: Store) -> None:
    player = await begun(store)
    await player.session.answer("1", "")
    await player.session.answer("77 degF", "degC")
    stored = store.events(1)[-1]
    assert (stored.text, stored.unit) == ("77 degF", "degF")
    assert stored.value == pytest.approx(298.15)  # 77 degF is 25 degC


async def test_several_words_are_kept_sorted_and_come_back(store: Store) -> None:
    player = await begun(store)
    await player.to("arrive", "contamination")
    await player.session.answer("sealant, air", "")
    assert store.events(1)[-1].value == ("air", "sealant")
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.walk.facts.get("contamination") == frozenset({"air", "sealant"})


async def test_what_cannot_be_is_refused_and_nothing_is_recorded(store: Store) -> None:
    player = await begun(store)
    with pytest.raises(EntryError, match="R-22"):
        await player.session.answer("R-22", "")
    assert len(store.events(1)) == 1


async def test_an_unusual_value_is_accepted_and_told(store: Store) -> None:
    player = await begun(store)
    await player.session.answer("1", "")
    await player.session.answer("63", "degC")
    assert any("unusual" in told for told in player.session.notices)
    await player.session.answer("none", "")
    assert player.session.notices == []


async def test_resuming_stands_where_the_job_was_left(store: Store) -> None:
    player = await begun(store)
    while player.session.walk.prompt is not None:
        await player.step_on()
        again = await Session.resume(store, 1, clock=player.clock)
        assert again.walk.prompt == player.session.walk.prompt
        assert again.walk.facts.known() == player.session.walk.facts.known()
        assert again.walk.trail == player.session.walk.trail
        assert again.walk.conclusion == player.session.walk.conclusion
        assert again.events == player.session.events


async def test_the_conclusion_and_the_end_are_written_down(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    kinds = [one.kind for one in store.events(1)]
    assert kinds[-1] == FINISHED
    assert kinds.count(CONCLUDED) == 1
    [concluded] = [one for one in store.events(1) if one.kind == CONCLUDED]
    conclusion = conclusion_from_plain(concluded.detail)
    assert conclusion == player.session.walk.conclusion == player.session.conclusion
    assert conclusion.finding == "healthy"
    assert {one.finding for one in conclusion.ruled_out} == {"weak"}
    assert concluded.detail["versions"]["flow_hash"] == player.session.flow.hash
    assert {"program", "tables", "bands"} < set(concluded.detail["versions"])
    summary = store.jobs()[0]
    assert (summary.status, summary.finding) == ("finished", "healthy")


async def test_a_step_that_proves_ends_the_job_at_once(store: Store) -> None:
    player = await begun(store, {**HEALTHY, "contamination": "sealant"})
    await player.finish()
    assert [one.kind for one in store.events(1)][-2:] == [CONCLUDED, FINISHED]
    assert player.session.conclusion is not None
    assert player.session.conclusion.proved_by == "spoilt"


async def test_a_watch_rule_is_written_down_with_its_reason(store: Store) -> None:
    player = await begun(store, {**HEALTHY, "loaded.high_side": "410"})
    await player.to("cool", "(done)")
    [stopped] = [one for one in store.events(1) if one.kind == INTERRUPTED]
    assert (stopped.step, stopped.visit) == ("raise", 1)
    assert stopped.detail == {"watch": "high-limit", "because": "the high side is at its limit", "to": "cool"}
    await player.finish()  # a second time is once too often
    stops = [one for one in store.events(1) if one.kind == INTERRUPTED]
    assert [one.detail["to"] for one in stops] == ["cool", "stop-for-good"]
    assert player.session.conclusion is not None
    assert player.session.conclusion.interrupted


async def test_undo_takes_back_the_last_answer_and_keeps_the_trace(store: Store) -> None:
    player = await begun(store)
    assert not await player.session.undo()
    await player.to("base", "duty")
    facts = dict(player.session.walk.facts.known())
    before = player.session.walk.prompt
    await player.session.answer("55", "percent")
    assert await player.session.undo()
    assert player.session.walk.prompt == before
    assert dict(player.session.walk.facts.known()) == facts
    assert [one.kind for one in store.events(1)][-2:] == [ANSWERED, WITHDRAWN]
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.walk.prompt == before
    await player.session.answer("60", "percent")
    assert player.session.walk.facts.get("baseline.duty") == pytest.approx(0.6)


async def test_undo_goes_all_the_way_back_and_forward_again(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    answered = len(player.session.walk.answered)
    for left in range(answered, 0, -1):
        assert len(player.session.walk.answered) == left
        assert await player.session.undo()
    assert not await player.session.undo()
    assert player.session.walk == trail(player.session.flow, {})
    assert player.session.conclusion is None
    assert store.jobs()[0].status == "open"
    await player.finish()
    assert store.jobs()[0].finding == "healthy"


async def test_taking_back_what_led_to_the_finding_leads_to_another(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    await player.session.undo()  # caps on
    assert store.jobs()[0].status == "concluded"
    while player.session.walk.prompt is None or player.session.walk.prompt.item != "recovered_charge":
        await player.session.undo()
    assert (store.jobs()[0].status, store.jobs()[0].finding) == ("open", None)
    player.texts = {**HEALTHY, "recovered_charge": "200", "loaded.high_side": "150"}
    while player.session.walk.prompt is None or player.session.walk.prompt.item != "high_side":
        await player.session.undo()
    await player.finish()
    assert player.session.conclusion is not None
    assert player.session.conclusion.finding == "low-charge"
    concluded = [one.detail["finding"] for one in store.events(1) if one.kind == CONCLUDED]
    assert concluded == ["healthy", "low-charge"]


async def test_half_typed_text_comes_back_and_goes_with_its_answer(store: Store) -> None:
    player = await begun(store)
    session = player.session
    await session.answer("1", "")
    assert session.draft_text() == ""
    await session.draft("2")
    await session.draft("24.")
    await session.draft("24.")
    assert [one.kind for one in store.events(1)].count(DRAFT) == 2
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.draft_text() == "24."
    await again.draft("")
    assert (await Session.resume(store, 1)).draft_text() == ""
    await again.draft("24")
    await again.answer("24.5", "degC")
    assert again.draft_text() == ""
    await again.undo()
    assert again.draft_text() == ""


async def test_a_draft_that_comes_after_its_answer_is_dropped(store: Store) -> None:
    player = await begun(store)
    await asyncio.gather(player.session.answer("1", ""), player.session.draft("R-13"))
    assert [one.kind for one in store.events(1)] == [STARTED, ANSWERED]


async def test_a_key_pressed_twice_answers_once(store: Store) -> None:
    player = await begun(store)
    await player.to("base", ITEM_CAUTIONS)
    await asyncio.gather(player.session.acknowledge(), player.session.acknowledge())
    assert [one.kind for one in store.events(1)].count(ACKNOWLEDGED) == 1
    assert player.session.walk.prompt is not None
    assert player.session.walk.prompt.item == ITEM_BEGIN


async def test_a_caller_that_goes_away_leaves_no_half(store: Store) -> None:
    player = await begun(store)
    leaving = asyncio.ensure_future(player.session.answer("1", ""))
    await asyncio.sleep(0)
    leaving.cancel()
    await asyncio.gather(leaving, return_exceptions=True)
    await player.session.note("after")  # waits its turn behind the answer
    assert [one.kind for one in store.events(1)] == [STARTED, ANSWERED, NOTED]
    assert player.session.walk.prompt is not None
    assert player.session.walk.prompt.item == "ambient_temperature"


async def test_the_wrong_answer_for_a_prompt_is_our_own_bug(store: Store) -> None:
    player = await begun(store)
    for wrong in (
        player.session.done,
        player.session.acknowledge,
        player.session.begin_set,
        player.session.skip,
    ):
        with pytest.raises(ValueError, match=r"answered by|only a step"):
            await wrong()
    await player.to("base", ITEM_CAUTIONS)
    with pytest.raises(ValueError, match="no reading"):
        await player.session.answer("1", "")
    await player.finish()
    with pytest.raises(ValueError, match="nothing is asked"):
        await player.session.done()
    assert store.events(1)[-1].kind == FINISHED


async def test_what_a_set_is_begun_with_is_written_down(store: Store) -> None:
    player = await begun(store)
    await player.to("raise", "low_side")
    begun_sets = [one.detail for one in store.events(1) if one.kind == SET_BEGUN]
    assert begun_sets == [
        {"load": "moderate", "load_before": ""},
        {"load": "raised", "load_before": "moderate"},
    ]
    cautions = [one.detail["ids"] for one in store.events(1) if one.kind == ACKNOWLEDGED]
    assert cautions == [["belt", "burst"], ["burst"]]  # the worse signal word first


async def test_a_learner_predicts_before_the_entry(store: Store) -> None:
    player = await begun(store, learner=True)
    await player.to("raise", ITEM_BEGIN)
    with pytest.raises(ValueError, match="sideways"):
        await player.session.predict({"low_side": "sideways"})
    with pytest.raises(ValueError, match="nothing_such"):
        await player.session.predict({"nothing_such": "up"})
    await player.session.predict({"low_side": "down", "high_side": "up"})
    stored = store.events(1)[-1]
    assert (stored.kind, stored.step, stored.visit) == (PREDICTED, "raise", 1)
    assert stored.detail == {"low_side": "down", "high_side": "up"}
    again = await Session.resume(store, 1)
    assert again.learner
    assert again.walk.prompt is not None
    assert again.walk.prompt.item == ITEM_BEGIN


async def test_a_gap_between_two_ways_to_read_the_duty_is_told_once(store: Store) -> None:
    player = await begun(store)
    await player.to("base", "duty_displayed")
    await player.step_on()
    # Across the coil, positive edge: the display is the commanded share (procedure.md, "Is it commanded?"):
    # 42 % shown and 50 % given are 8 points apart.
    assert player.session.notices == [
        "Baseline: the duty given is 8 points above what the meter's display means. "
        "Check the leads, the edge and the switched side."
    ]
    await player.step_on()
    assert player.session.notices == []


async def test_a_blank_note_is_none(store: Store) -> None:
    player = await begun(store)
    await player.session.note("  ")
    await player.session.note("belt is new")
    assert [(one.kind, one.text) for one in store.events(1)[1:]] == [(NOTED, "belt is new")]


async def test_a_program_cut_off_before_the_conclusion_was_written_writes_it_on_return(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    whole = store.events(1)
    job = store.create_job(again(store), first=whole[0])
    last = max(number for number, one in enumerate(whole) if one.kind not in (CONCLUDED, FINISHED))
    kept = [one for one in whole[: last + 1] if one.kind != CONCLUDED]
    for number, one in enumerate(kept[1:], 2):
        store.append(job, number, one).result()
    back = await Session.resume(store, job, clock=player.clock)
    assert [one.kind for one in store.events(job)][-2:] == [CONCLUDED, FINISHED]
    assert back.conclusion == player.session.conclusion
    assert store.job(job).status == "finished"


def again(store: Store) -> NewJob:
    """A job like the first."""
    one = store.job(1)
    return NewJob(
        one.flow,
        one.title,
        one.revision,
        store.bundle(1),
        one.program_version,
        one.table_version,
        one.band_version,
        one.created,
    )


async def test_five_hundred_events_resume_within_the_budget(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    while len(player.session.events) < 500:
        await player.session.undo()
        await player.step_on()
    with Paced() as cost:
        back = await Session.resume(store, 1)
    assert back.walk.trail == player.session.walk.trail
    assert cost.paces < 6  # the 0.3 s of issue 2, section 7
