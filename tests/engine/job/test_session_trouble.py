"""A full disk, a program that holds the store, another window: the walk goes on and nothing is lost."""

from __future__ import annotations

import asyncio
import random
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from engine.job.events import ANSWERED, NOTED, STARTED
from engine.job.session import Session, SessionChanged
from engine.job.store import Store
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        yield opened


async def begun(store: Store) -> Player:
    clock = Clock()
    return Player(await Session.start(store, MILD_DAY, clock=clock), clock, HEALTHY)


async def test_a_held_store_lets_the_walk_go_on_and_takes_all_later(store: Store, tmp_path: Path) -> None:
    player = await begun(store)
    session = player.session
    with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as holder:
        holder.execute("BEGIN IMMEDIATE")
        await session.answer("1", "")
        assert session.walk.prompt is not None
        assert session.walk.prompt.item == "ambient_temperature"
        assert session.unsaved == 1
        [told] = session.notices
        assert told.startswith(
            "The last entry is not on disk yet: do not close loadstep. Another program is holding"
        )
        await session.answer("25", "degC")
        assert session.notices[0].startswith("The last 2 entries are not on disk yet")
        assert not await session.save()
        holder.execute("ROLLBACK")
    await session.answer("none", "")
    assert session.notices == []
    assert session.unsaved == 0
    assert store.events(1) == session.events
    assert [one.text for one in store.events(1)] == ["", "1", "25", "none"]


async def test_what_waits_can_be_saved_without_another_answer(store: Store, tmp_path: Path) -> None:
    player = await begun(store)
    with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as holder:
        holder.execute("BEGIN IMMEDIATE")
        await player.session.answer("1", "")
        holder.execute("ROLLBACK")
    assert await player.session.save()
    assert store.events(1) == player.session.events


async def test_a_job_can_begin_while_the_store_is_held(store: Store, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as holder:
        holder.execute("BEGIN IMMEDIATE")
        player = await begun(store)
        assert player.session.job == 0
        assert player.session.unsaved == 1
        holder.execute("ROLLBACK")
    await player.session.answer("1", "")
    assert player.session.job == 1
    assert [one.kind for one in store.events(1)] == [STARTED, ANSWERED]


async def test_a_whole_job_can_be_walked_beside_a_newer_store(tmp_path: Path) -> None:
    Store.open(tmp_path).close()
    with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as connection:
        connection.execute("PRAGMA user_version = 9")
    with Store.open(tmp_path) as store:
        assert store.mode == "read-only"
        player = await begun(store)
        await player.finish()
        assert player.session.conclusion is not None
        assert player.session.conclusion.finding == "healthy"
        assert player.session.job == 0
        assert player.session.unsaved == len(player.session.events)
        assert "not kept on disk: write its sheet before you close loadstep" in player.session.notices[0]
        assert "newer loadstep" in player.session.notices[0]
        assert store.jobs() == []


ROOT = Path(__file__).parents[3]

FULL_DISK = """
import asyncio, sys
from pathlib import Path
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player

async def main():
    import resource, signal
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    clock, store = Clock(), Store.open(Path(sys.argv[1]))
    player = Player(await Session.start(store, MILD_DAY, clock=clock), clock, HEALTHY)
    await player.step_on()
    size = Path(sys.argv[1], "store.db-wal").stat().st_size
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))
    for _ in range(4):
        await player.step_on()
    print(player.session.unsaved, player.session.notices[0])
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    await player.finish()
    print(player.session.unsaved, player.session.notices, store.events(1) == player.session.events)
    store.close()

asyncio.run(main())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX")
def test_a_disk_that_takes_nothing_lets_the_walk_go_on_and_takes_all_later(tmp_path: Path) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", FULL_DISK, str(tmp_path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    full, after = ran.stdout.splitlines()
    assert full.startswith(
        "4 The last 4 entries are not on disk yet: do not close loadstep. The disk that holds"
    )
    assert "Free some space on it; loadstep tries again with the next answer." in full
    assert after == "0 [] True"


WALKER = """
import asyncio, sys
from pathlib import Path
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player

async def main():
    clock, store = Clock(), Store.open(Path(sys.argv[1]))
    player = Player(await Session.start(store, MILD_DAY, clock=clock), clock, HEALTHY)
    while True:
        if player.session.walk.prompt is None:
            await player.session.undo()
        await player.session.draft(f"half {len(player.session.events)}")
        await player.step_on()
        print(len(player.session.events), player.session.walk.prompt, flush=True)

asyncio.run(main())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
@pytest.mark.parametrize("name", ["SIGKILL", "SIGTERM", "SIGHUP"])
async def test_a_walk_that_is_killed_goes_on_where_it_was_acknowledged(tmp_path: Path, name: str) -> None:
    walker = subprocess.Popen(
        [sys.executable, "-c", WALKER, str(tmp_path)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    )
    assert walker.stdout is not None
    lines = [walker.stdout.readline()]
    await asyncio.sleep(random.uniform(0, 0.3))
    walker.send_signal(getattr(signal, name))
    lines += [line for line in walker.communicate()[0].splitlines() if line.endswith(("None", "')"))]
    count, prompt = lines[-1].strip().split(" ", 1)
    with Store.open(tmp_path) as store:
        kept = len(store.events(1))
        assert kept >= int(count)
        session = await Session.resume(store, 1)
        if kept == int(count):
            assert str(session.walk.prompt) == prompt
        elif session.draft_text():
            assert session.draft_text() == f"half {kept - 1}"


async def test_the_slower_of_two_windows_follows_the_faster_and_is_told(tmp_path: Path) -> None:
    with Store.open(tmp_path) as first, Store.open(tmp_path) as second:
        player = await begun(first)
        other = await Session.resume(second, 1, clock=player.clock)
        await other.answer("2", "")
        await other.answer("25", "degC")
        with pytest.raises(
            SessionChanged, match=r"Another window has gone on with job 1.*was not recorded\."
        ):
            await player.session.answer("1", "")
        assert player.session.walk.prompt == other.walk.prompt
        assert player.session.walk.facts.get("refrigerant") == "R-1234yf"
        assert player.session.events == first.events(1)
        await player.session.answer("none", "")
        with pytest.raises(SessionChanged):
            await other.draft("no")
        assert other.walk.prompt == player.session.walk.prompt
        assert first.events(1) == other.events


async def test_what_waited_for_the_disk_follows_what_another_window_wrote(tmp_path: Path) -> None:
    with Store.open(tmp_path) as first, Store.open(tmp_path) as second:
        player = await begun(first)
        other = await Session.resume(second, 1, clock=player.clock)
        with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as holder:
            holder.execute("BEGIN IMMEDIATE")
            await player.session.note("said while the store was held")
            holder.execute("ROLLBACK")
        await other.answer("2", "")
        with pytest.raises(SessionChanged):
            await player.session.answer("1", "")
        assert await player.session.save()
        kinds = [one.kind for one in first.events(1)]
        assert kinds == [STARTED, ANSWERED, NOTED]
        assert player.session.walk.facts.get("refrigerant") == "R-1234yf"
