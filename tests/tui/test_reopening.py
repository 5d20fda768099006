"""Which flow verifies a repair: the one the job was begun with, whatever else has its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.library import Source, find
from engine.job.events import STARTED
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import FOLDER, Clock, Player
from tests.engine.job.test_handing import TEXTS
from tests.tui.conftest import SMALL
from tui.reopening import Unopened, verifying_flow


@pytest.fixture
def data(store: Store) -> Path:
    """A data folder with an own flow that is called as a shipped one."""
    text = Path(SMALL).read_text(encoding="utf-8").replace("flow: small", "flow: stroke_by_load")
    folder = store.file.parent
    (folder / "flows").mkdir()
    (folder / "flows" / "stroke_by_load.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("name", ["own:stroke_by_load", "stroke_by_load"])
async def test_it_is_the_one_the_job_was_begun_with(store: Store, data: Path, name: str) -> None:
    session = await Session.start(store, find(name, data))
    (data / "flows" / "stroke_by_load.yaml").open("a").write("# revised since\n")
    assert verifying_flow(session, data) == name


async def test_a_flow_known_by_its_path_is_found_from_any_folder(
    store: Store, data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "stroke_by_load.yaml").write_bytes(
        (data / "flows" / "stroke_by_load.yaml").read_bytes()
    )
    monkeypatch.chdir(tmp_path)
    session = await Session.start(store, find("mine/stroke_by_load.yaml", data))
    monkeypatch.chdir(data)
    assert verifying_flow(session, data) == str(tmp_path / "mine" / "stroke_by_load.yaml")


async def test_after_a_hand_over_it_is_the_flow_that_went_on(store: Store, data: Path) -> None:
    for file in (FOLDER / "handing").glob("*.yaml"):
        (data / "flows" / file.name).write_bytes(file.read_bytes())
    clock = Clock()
    session = await Session.start(store, find("own:triage", data), clock=clock)
    await Player(session, clock, TEXTS).finish()
    assert verifying_flow(session, data) == "own:charge"


async def test_a_job_older_than_the_note_takes_none_where_it_cannot_be_told(store: Store, data: Path) -> None:
    path = data / "flows" / "stroke_by_load.yaml"
    session = await Session.start(store, Source("own:stroke_by_load", path))
    started = next(event for event in session.events if event.kind == STARTED)
    del started.detail["source"]
    with pytest.raises(Unopened) as caught:
        verifying_flow(session, data)
    assert str(caught.value) == (
        "There is more than one flow stroke_by_load (stroke_by_load, own:stroke_by_load). "
        "Begin the one meant: loadstep walk NAME"
    )
