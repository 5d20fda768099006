"""Files that are not what we wrote are set aside and kept; the person works on."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.job.store import Store, StoreDamaged, connect
from tests.engine.job.store.helpers import event, new_job

NOW = datetime(2026, 12, 1, 8, 30, tzinfo=UTC)
ASIDE = "store-damaged-20261201T083000.db"


def filled(folder: Path, events: int = 200) -> Path:
    with Store.open(folder) as store:
        job = store.create_job(new_job())
        for number in range(1, events + 1):
            future = store.append(job, number, event(number, text="x" * 300))
        future.result()
    return folder / "store.db"


def scribble(file: Path) -> None:
    """Overwrite pages in the middle, as a bad disk or a careless copy does."""
    with file.open("r+b") as opened:
        opened.seek(4096 * 3)
        opened.write(b"\xa5" * 4096 * 6)


def overwrite(file: Path) -> None:
    file.write_bytes(b"this was a store once" * 500)


def cut(file: Path) -> None:
    with file.open("r+b") as opened:
        opened.truncate(file.stat().st_size // 2)


def empty(file: Path) -> None:
    file.write_bytes(b"")


def foreign(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")


def dropped(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("DROP TABLE events")


@pytest.mark.parametrize("ruin", [scribble, overwrite, cut, empty, foreign, dropped])
def test_a_damaged_store_is_kept_and_a_new_one_begun(tmp_path: Path, ruin: Callable[[Path], None]) -> None:
    file = filled(tmp_path)
    ruin(file)
    ruined = file.read_bytes()
    with Store.open(tmp_path, NOW) as store:
        assert store.mode == "normal"
        assert store.jobs() == []
        assert len(store.notices) == 1
        assert f"It is kept as {tmp_path / ASIDE}, and a new, empty store was begun." in store.notices[0]
        assert str(file) in store.notices[0]
        job = store.create_job(new_job())
        assert store.append(job, 1, event()).result() == 1
    assert (tmp_path / ASIDE).read_bytes() == ruined
    with Store.open(tmp_path, NOW) as store:
        assert store.notices == []
        assert len(store.jobs()) == 1


def test_a_second_damaged_store_does_not_overwrite_the_first(tmp_path: Path) -> None:
    for word in (b"one", b"two"):
        (tmp_path / "store.db").write_bytes(word * 1000)
        Store.open(tmp_path, NOW).close()
    assert (tmp_path / ASIDE).read_bytes().startswith(b"one")
    assert (tmp_path / "store-damaged-20261201T083000-2.db").read_bytes().startswith(b"two")


def test_the_log_goes_with_the_store_it_belongs_to(tmp_path: Path) -> None:
    overwrite(filled(tmp_path))
    (tmp_path / "store.db-wal").write_bytes(b"log of the damaged store")
    Store.open(tmp_path, NOW).close()
    assert (tmp_path / f"{ASIDE}-wal").read_bytes() == b"log of the damaged store"
    assert not (tmp_path / "store.db-wal").exists()


def test_a_log_without_its_store_never_reaches_the_next_store(tmp_path: Path) -> None:
    keeper = Store.open(tmp_path)
    job = keeper.create_job(new_job(vehicle="from the old log"))
    keeper.append(job, 1, event()).result()
    log = (tmp_path / "store.db-wal").read_bytes()
    keeper.close()
    (tmp_path / "store.db").unlink()
    (tmp_path / "store.db-wal").write_bytes(log)
    with Store.open(tmp_path, NOW) as store:
        assert store.jobs() == []
        assert store.notices == [
            f"{tmp_path / 'store.db'} is gone, but its log was still there: "
            f"it is kept as {tmp_path / ASIDE}-wal."
        ]
        assert store.create_job(new_job()) == 1
    assert (tmp_path / f"{ASIDE}-wal").read_bytes() == log


def test_damage_met_later_is_a_sentence_now_and_set_aside_at_the_next_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connect, "_READ_THROUGH_BYTES", 0)  # as if the store were too large to read through
    file = filled(tmp_path)
    scribble(file)
    with Store.open(tmp_path, NOW) as store:
        assert store.notices == []
        with pytest.raises(
            StoreDamaged, match=r"store\.db is damaged .* start it again: it then sets the file"
        ):
            store.events(1)
    with Store.open(tmp_path, NOW) as store:
        assert f"It is kept as {tmp_path / ASIDE}" in store.notices[0]
    with Store.open(tmp_path, NOW) as store:
        assert store.notices == []


def newer(folder: Path, change: str = "") -> Path:
    file = filled(folder, events=2)
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.executescript(f"{change} PRAGMA user_version = 9;")
    return file


def test_a_newer_store_is_read_and_not_written(tmp_path: Path) -> None:
    from engine.job.store import StoreReadOnly

    file = newer(tmp_path, "ALTER TABLE jobs ADD COLUMN colour TEXT;")
    before = file.read_bytes()
    with Store.open(tmp_path, NOW) as store:
        assert store.mode == "read-only"
        assert store.notices == [
            f"{file} was written by a newer loadstep (format 9; this one knows 2). Update loadstep, or set "
            "LOADSTEP_HOME to another folder. Its jobs can be read; new answers are not kept."
        ]
        assert [summary.id for summary in store.jobs()] == [1]
        assert len(store.events(1)) == 2
        with pytest.raises(StoreReadOnly, match="newer loadstep"):
            store.append(1, 3, event()).result()
        with pytest.raises(StoreReadOnly, match="newer loadstep"):
            store.create_job(new_job())
    assert file.read_bytes() == before


def test_a_newer_store_that_cannot_be_read_leaves_a_place_to_work(tmp_path: Path) -> None:
    file = newer(tmp_path, "ALTER TABLE events RENAME TO happenings;")
    before = file.read_bytes()
    store = Store.open(tmp_path, NOW)
    assert store.mode == "elsewhere"
    assert "written by a newer loadstep (format 9" in store.notices[0]
    assert f"LOADSTEP_HOME={store.file.parent}" in store.notices[0]
    assert store.create_job(new_job()) == 1
    store.close()
    assert file.read_bytes() == before
    with Store.open(store.file.parent) as again:
        assert len(again.jobs()) == 1
