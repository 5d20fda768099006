"""A flow that hands over to another: one job, one trail, and what is carried is asked once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.flow.library import Source
from engine.flow.load import load_path
from engine.flow.model import ITEM_CAUTIONS, Flow
from engine.job.events import WITHDRAWN
from engine.job.replay.result import path, result
from engine.job.replay.run import replay_file
from engine.job.session import Session
from engine.job.sheet import DeclaredUnits, build_sheet, to_markdown
from engine.job.state import CARRIED, HANDED_OVER
from engine.job.store import Store
from engine.job.walk import begin
from tests.engine.job.little import through
from tests.engine.job.made_up import FOLDER, Clock, Player

TRIAGE = Source("triage", FOLDER / "handing" / "triage.yaml")
PSI = 6894.757293168  # NIST SP 811 (2008), appendix B.8

TEXTS = {
    "drive": "belt", "warm": "yes", "smell": "no", "ambient_temperature": "31",
    "static.low_side": "80", "static.high_side": "81", "loaded.low_side": "12", "refrigerant": "R-134a",
}  # fmt: skip


@pytest.fixture(scope="module")
def flow() -> Flow:
    return load_path(TRIAGE.path)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        yield opened


async def begun(store: Store, **texts: str) -> Player:
    clock = Clock()
    return Player(await Session.start(store, TRIAGE, clock=clock), clock, {**TEXTS, **texts})


def at_the_hand_over(flow: Flow) -> list[float | str | None]:
    return ["belt", "yes", "no", 304.15, 80 * PSI, 81 * PSI, 30 * PSI]


def test_the_other_flow_goes_on_with_what_is_carried(flow: Flow) -> None:
    walk = through(begin(flow), *at_the_hand_over(flow))
    assert walk.flow.name == "charge"
    assert walk.step is not None
    assert walk.step.id == "charge/gas"
    assert dict(walk.facts.known()) == {
        "drive": "belt",
        "warm": "yes",
        "ambient_temperature": 304.15,
        "static.low_side": 80 * PSI,
        "static.high_side": 81 * PSI,
    }  # smell is not carried, and the load of the triage is another one
    assert walk.job_flow is flow


def test_the_trail_is_one_and_says_where_it_handed_over(flow: Flow) -> None:
    walk = through(begin(flow), *at_the_hand_over(flow), "R-134a")
    told = [(entry.step, entry.how, entry.because) for entry in walk.trail[-5:]]
    assert told == [
        ("to-charge", HANDED_OVER, "Is the charge right?"),
        ("charge/hear", "went", ""),
        ("charge/air", CARRIED, "known from: Not cold?"),
        ("charge/gas", "went", ""),
        ("charge/rest", CARRIED, "known from: Not cold?"),
    ]


def test_cautions_of_the_other_flow_hold_though_all_its_readings_are_known(flow: Flow) -> None:
    walk = through(begin(flow), *at_the_hand_over(flow), "R-134a")
    shown = {one.step: one.ids for one in walk.cautions}
    assert shown["charge/hear"] == ("cables",)  # nobody had read that one
    assert "charge/rest" not in shown  # goggles were on already, and nothing is done here
    assert shown["charge/load"] == ("eyes",)  # a new exposure


def test_gates_of_the_other_flow_hold_for_carried_readings(flow: Flow) -> None:
    values = at_the_hand_over(flow)
    walk = through(begin(flow), "electric", *values[1:])
    assert walk.conclusion is not None
    assert (walk.conclusion.finding, walk.conclusion.proved_by) == ("electric", "charge/stop")


def test_what_could_not_be_measured_is_carried_as_that(flow: Flow) -> None:
    walk = through(begin(flow), None, *at_the_hand_over(flow)[1:])
    assert walk.conclusion is not None
    assert walk.conclusion.step == "charge/stop"  # unknown drive stops, and is not asked again
    assert walk.unknown == ("drive",)


def test_only_the_signs_findings_and_watch_rules_of_the_other_flow_count(flow: Flow) -> None:
    walk = through(begin(flow), *at_the_hand_over(flow), "R-134a", 12 * PSI)
    assert walk.conclusion is not None
    assert walk.conclusion.finding == "undercharge"
    assert list(walk.flow.signs) == ["short", "equal"]
    # 9 for the side under load, 0.5 for the pressure at rest; 0.2 and 1 for its rival
    assert walk.conclusion.ranked[0].probability == pytest.approx(4.5 / 4.7)
    starved = through(begin(flow), *at_the_hand_over(flow), "R-134a", 2 * PSI)
    assert [entry.because for entry in starved.trail if entry.how == "interrupted"] == [
        "The low side is starved."
    ]


def test_a_set_that_is_not_whole_is_taken_anew(flow: Flow, tmp_path: Path) -> None:
    for source in (FOLDER / "handing").glob("*.yaml"):
        text = source.read_text()
        if source.stem == "charge":
            old = "set: static\n    record: [low_side, high_side"
            text = text.replace(old, old + ", duty")
        (tmp_path / source.name).write_text(
            text.replace("readings:\n", "readings:\n  duty: {label: Duty, quantity: ratio}\n")
        )
    flow = load_path(tmp_path / "triage.yaml")
    walk = through(begin(flow), *at_the_hand_over(flow), "R-134a")
    assert walk.step is not None
    assert (walk.step.id, walk.reading and walk.reading.name) == ("charge/rest", "low_side")
    assert walk.facts.get("static.low_side") is None
    walk = through(walk, 70 * PSI, 71 * PSI, 0.4)
    assert walk.facts.get("static.low_side") == 70 * PSI


async def test_a_job_is_one_in_the_store_and_can_be_resumed_behind_the_hand_over(store: Store) -> None:
    player = await begun(store)
    await player.to("charge/load", "low_side")
    before = player.session.walk
    again = await Session.resume(store, player.session.job, clock=player.clock)
    assert (again.walk.prompt, again.walk.trail) == (before.prompt, before.trail)
    assert (again.walk.facts, again.walk.carried) == (before.facts, before.carried)
    assert sorted(store.bundle(1).files) == ["charge.yaml", "common.yaml", "triage.yaml"]
    await Player(again, player.clock, TEXTS).finish()
    [kept] = store.jobs()
    assert (kept.flow, kept.status, kept.finding) == ("triage", "finished", "undercharge")
    assert {event.flow for event in again.events} == {"triage", "charge"}


async def test_answers_can_be_taken_back_past_the_hand_over(store: Store) -> None:
    player = await begun(store)
    await player.to("charge/gas", "refrigerant")
    await player.session.undo()  # the caution at the other flow's start
    await player.session.undo()  # the last reading before the hand-over
    walk = player.session.walk
    assert walk.prompt is not None
    assert (walk.flow.name, walk.prompt.step, walk.prompt.item) == ("triage", "run", "low_side")
    await player.to("charge/gas", "refrigerant")


async def test_a_carried_reading_can_be_changed_where_it_was_asked(store: Store) -> None:
    player = await begun(store)
    await player.to("charge/load", ITEM_CAUTIONS)
    key = player.session.walk.key_of("ambient_temperature")
    assert key == ("hear", 1, "ambient_temperature")
    assert await player.session.change(key)
    walk = player.session.walk
    assert walk.prompt is not None
    assert (walk.prompt.step, walk.prompt.item) == ("hear", "ambient_temperature")
    assert player.session.events[-1].kind == WITHDRAWN
    await player.session.answer("20", "degC")
    walk = player.session.walk  # all answers after it still fit
    assert walk.prompt is not None
    assert walk.prompt.step == "charge/load"
    assert walk.facts.get("ambient_temperature") == pytest.approx(293.15)
    assert player.session.walk.key_of("refrigerant_purity") is None
    assert not await player.session.change(("hear", 2, "drive"))


async def test_the_sheet_is_one(store: Store) -> None:
    player = await begun(store)
    await player.finish()
    session = player.session
    text = to_markdown(build_sheet(session.walk.job_flow, session.events, session.job, DeclaredUnits()))
    assert text.startswith("# Job sheet: Not cold?")
    assert "Not cold? (revision 4), then Is the charge right? (revision 7)" in text
    assert "Too little" in text
    assert "handed over to: Is the charge right?" in text
    assert "not asked again: known from: Not cold?" in text
    # what each flow read under its own load stands in a table of its own
    assert "Charge load" in text
    assert text.index("Charge load") < text.index("Read before, in: Not cold?") < text.index("Triage load")
    assert text.count("| Smell |") == 1  # not carried, but read in this job
    assert "| Low side (Triage load) | 12" in text
    assert "| Low side (Charge load) | 12" in text


def test_a_replay_file_names_what_any_of_the_flows_reads(tmp_path: Path) -> None:
    facts = "\n".join(
        [
            "format: 1",
            f"flow: {TRIAGE.path}",
            "facts:",
            "  drive: belt",
            "  warm: yes",
            "  refrigerant: R-134a",
            "  static: {low_side: 80 psi, high_side: 81 psi}",
            "  loaded: {low_side: 12 psi}",
        ]
    )
    (tmp_path / "job.yaml").write_text(facts)
    replayed = replay_file(str(tmp_path / "job.yaml"))
    told = result("job.yaml", replayed.walk, replayed.given)
    assert (told["flow"], told["revision"], told["finding"]) == ("triage", 4, "undercharge")
    assert path(replayed.walk)[-4:] == ["charge/gas", "charge/load", "charge/weigh", "charge/caps"]
    assert told["unused"] == []
