"""Which flow verifies a repair: the one the job was begun with, whatever else has its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.library import find
from engine.job.session import Session
from engine.job.store import Store
from tests.tui.conftest import SMALL
from tui.reopening import Unopened, verifying_flow


def put(folder: Path, text: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "stroke_by_load.yaml").write_text(text, encoding="utf-8")


@pytest.fixture
def namesake(store: Store) -> str:
    """An own flow called as a shipped one."""
    text = Path(SMALL).read_text(encoding="utf-8").replace("flow: small", "flow: stroke_by_load")
    put(store.file.parent / "flows", text)
    return text


@pytest.mark.parametrize("name", ["own:stroke_by_load", "stroke_by_load"])
async def test_it_is_the_one_the_job_was_begun_with(store: Store, namesake: str, name: str) -> None:
    data = store.file.parent
    session = await Session.start(store, find(name, data))
    assert verifying_flow(session, data) == name


async def test_where_it_cannot_be_told_none_is_taken(store: Store, namesake: str) -> None:
    data = store.file.parent
    session = await Session.start(store, find("own:stroke_by_load", data))
    put(data / "flows", namesake + "# revised since\n")
    with pytest.raises(Unopened) as caught:
        verifying_flow(session, data)
    assert str(caught.value) == (
        "There is more than one flow stroke_by_load (stroke_by_load, own:stroke_by_load). "
        "Begin the one meant: loadstep walk NAME"
    )
