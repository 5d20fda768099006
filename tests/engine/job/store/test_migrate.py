"""Every older store opens, keeps its jobs, and leaves a copy of itself."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.job.store import Store, migrate, schema
from tests.engine.job.store.helpers import event, new_job

FORMATS = Path(__file__).parent / "formats"
NOW = datetime(2026, 12, 1, 8, 30, tzinfo=UTC)


def lay_down(folder: Path, version: int) -> Path:
    """A store file as that format's program wrote it."""
    file = folder / "store.db"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript((FORMATS / f"{version}.sql").read_text(encoding="utf-8"))
    return file


def shape(file: Path) -> dict[str, list[tuple[object, ...]]]:
    """Columns and indexes of every table, as SQLite reports them."""
    with closing(sqlite3.connect(file)) as connection:
        names = [
            name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        found = {name: connection.execute(f"PRAGMA table_info({name})").fetchall() for name in sorted(names)}
        found["indexes"] = connection.execute(
            "SELECT name, tbl_name FROM sqlite_master WHERE type = 'index' ORDER BY name"
        ).fetchall()
    return found


def test_every_older_format_has_a_file_here() -> None:
    assert sorted(int(file.stem) for file in FORMATS.glob("*.sql")) == list(range(1, schema.VERSION))


@pytest.mark.parametrize("version", range(1, schema.VERSION))
def test_an_older_store_opens_with_all_its_jobs(tmp_path: Path, version: int) -> None:
    lay_down(tmp_path, version)
    with Store.open(tmp_path, NOW) as store:
        assert store.mode == "normal"
        one, two = store.job(1), store.job(2)
        assert (one.status, one.finding, one.steps, one.vehicle) == (
            "concluded",
            "undercharge",
            1,
            "blue estate",
        )
        assert one.last == datetime(2026, 11, 25, 9, 3, tzinfo=UTC)
        assert (two.status, two.finding, two.steps, two.after, two.learner) == ("open", None, 0, 1, True)
        assert [summary.id for summary in store.jobs()] == [2, 1]
        assert [one.text for one in store.events(1)] == ["", "41", "150", ""]
        assert store.bundle(1).files == {"mild_day.yaml": b"format: 1\n"}
        assert store.append(2, 2, event()).result() == 2
        assert store.create_job(new_job()) == 3


@pytest.mark.parametrize("version", range(1, schema.VERSION))
def test_an_older_store_becomes_what_a_new_one_is(tmp_path: Path, version: int) -> None:
    (tmp_path / "new").mkdir()
    file = lay_down(tmp_path, version)
    Store.open(tmp_path, NOW).close()
    Store.open(tmp_path / "new", NOW).close()
    assert shape(file) == shape(tmp_path / "new" / "store.db")


def test_the_store_is_copied_before_it_is_touched(tmp_path: Path) -> None:
    file = lay_down(tmp_path, 1)
    before = sqlite3.connect(file).execute("SELECT * FROM events").fetchall()
    with Store.open(tmp_path, NOW) as store:
        assert store.notices == [
            "The jobs were brought to a newer format. They are kept as they were in "
            f"{tmp_path / 'store-format-1-20261201T083000.db'}."
        ]
    kept = sqlite3.connect(tmp_path / "store-format-1-20261201T083000.db")
    assert kept.execute("PRAGMA user_version").fetchone() == (1,)
    assert kept.execute("SELECT * FROM events").fetchall() == before


def test_a_migration_that_fails_leaves_the_store_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = lay_down(tmp_path, 1)

    def half(connection: sqlite3.Connection) -> None:
        connection.execute("ALTER TABLE jobs ADD COLUMN last TEXT")
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr(migrate, "_STEPS", {1: half})
    with Store.open(tmp_path, NOW) as store:
        # The copy it falls back to meets the same failure, so that only memory is left.
        assert store.mode == "memory"
        assert "could not be used (disk I/O error)" in store.notices[0]
        assert store.create_job(new_job()) == 1
    with closing(sqlite3.connect(file)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)
        assert "last" not in [row[1] for row in connection.execute("PRAGMA table_info(jobs)")]
        assert connection.execute("SELECT count(*) FROM events").fetchone() == (5,)


def test_an_older_store_with_an_event_that_cannot_be_read_is_set_aside(tmp_path: Path) -> None:
    file = lay_down(tmp_path, 1)
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("UPDATE events SET body = '{' WHERE job = 1 AND number = 2")
    with Store.open(tmp_path, NOW) as store:
        assert store.mode == "normal"
        assert "kept as" in store.notices[0]
        assert store.jobs() == []
    assert (tmp_path / "store-damaged-20261201T083000.db").exists()
