"""Programs killed for real, two at once, and disks that are full or cannot be written for real."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from engine.job.store import Store
from tests.engine.job.store.helpers import child, event, new_job


def private_mounts() -> bool:
    """Whether this machine lets the test mount a small disk where nobody else sees it."""
    if sys.platform != "linux" or shutil.which("unshare") is None:
        return False
    tried = subprocess.run(["unshare", "-m", "mount", "-t", "tmpfs", "tmpfs", "/mnt"], capture_output=True)
    return tried.returncode == 0


needs_mounts = pytest.mark.skipif(not private_mounts(), reason="mounting needs root on Linux")
posix = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")


def new_store(folder: Path) -> int:
    with Store.open(folder) as store:
        return store.create_job(new_job())


def whole(file: Path) -> bool:
    with closing(sqlite3.connect(file)) as connection:
        return connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@posix
@pytest.mark.parametrize("name", ["SIGKILL", "SIGTERM", "SIGHUP"])
def test_no_acknowledged_event_is_lost_to_a_kill(tmp_path: Path, name: str) -> None:
    job = new_store(tmp_path)
    chance = random.Random(os.urandom(8))
    for _ in range(5):
        with Store.open(tmp_path) as store:
            before = len(store.events(job))
        program = child("append", str(tmp_path), str(job), "0")
        assert program.stdout is not None
        assert program.stdout.readline().startswith("ack")
        time.sleep(chance.uniform(0, 0.15))
        program.send_signal(getattr(signal, name))
        rest, _ = program.communicate()
        acknowledged = before + 1 + rest.count("ack ")
        with Store.open(tmp_path) as store:
            kept = store.events(job)
            assert store.notices == []
            # One more may be on disk whose acknowledgement was cut off, never one fewer.
            assert acknowledged <= len(kept) <= acknowledged + 1
            assert kept == [event(number) for number in range(1, len(kept) + 1)]
        assert whole(tmp_path / "store.db")


def test_two_programs_write_one_job_and_nothing_is_lost_or_doubled(tmp_path: Path) -> None:
    job = new_store(tmp_path)
    programs = [
        subprocess.Popen(
            [
                sys.executable,
                "-m",
                "tests.engine.job.store.child",
                "race",
                str(tmp_path),
                str(job),
                "60",
                word,
            ],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for word in ("left", "right")
    ]
    for program in programs:
        assert program.stdout is not None
        assert program.stdout.readline() == "ready\n"
    results = []
    for program in programs:
        assert program.stdin is not None
        program.stdin.write("go\n")
        program.stdin.flush()
    for program in programs:
        results.append(program.communicate()[0])
    assert results == ["done 60\n", "done 60\n"]
    with Store.open(tmp_path) as store:
        kept = store.events(job)
    for word in ("left", "right"):
        times = [one.at for one in kept if one.text == word]
        assert len(times) == 60
        assert times == sorted(times)
    assert len(kept) == 120


def test_one_program_may_open_a_store_twice_beside_another_program(tmp_path: Path) -> None:
    # POSIX drops all locks of a program on a file when it closes any handle of it, read-only ones included
    # (sqlite.org/howtocorrupt.html, section 2.2): whoever opens the store behind SQLite's back loses answers.
    with Store.open(tmp_path) as first:
        job = first.create_job(new_job())
        first.append(job, 1, event(1)).result()
        Store.open(tmp_path).close()
        said, _ = child("append", str(tmp_path), str(job), "3").communicate()
        assert said.count("ack ") == 3
        assert first.append(job, 5, event(5)).result() == 5
    with Store.open(tmp_path) as store:
        assert store.notices == []
        assert store.events(job) == [event(number) for number in range(1, 6)]


def test_programs_that_start_at_once_make_one_store(tmp_path: Path) -> None:
    home = tmp_path / "home"
    programs = [child("open", str(home)) for _ in range(6)]
    said = [program.communicate()[0] for program in programs]
    assert all("mode normal" in lines and "notice" not in lines for lines in said), said
    assert sum("jobs 0" in lines for lines in said) >= 1
    assert not list(home.glob("store-damaged*"))
    assert not list(home.glob(".store*"))
    assert whole(home / "store.db")


def test_programs_that_find_a_damaged_store_at_once_set_it_aside_once(tmp_path: Path) -> None:
    (tmp_path / "store.db").write_bytes(b"rubbish" * 1000)
    programs = [child("open", str(tmp_path)) for _ in range(4)]
    said = [program.communicate()[0] for program in programs]
    assert sum("notice" in lines for lines in said) == 1, said
    assert len(list(tmp_path.glob("store-damaged*.db"))) == 1


@posix
def test_a_file_that_may_not_grow_is_a_sentence_and_keeps_what_it_has(tmp_path: Path) -> None:
    job = new_store(tmp_path)
    program = child("append", str(tmp_path), str(job), "0", str(200_000))
    said, _ = program.communicate()
    acknowledged = said.count("ack ")
    assert acknowledged > 3
    last = said.splitlines()[-1]
    assert last.startswith("error StoreFull")
    assert "Free some space on it; loadstep tries again with the next answer." in last
    with Store.open(tmp_path) as store:
        assert len(store.events(job)) == acknowledged
        assert store.append(job, acknowledged + 1, event(1)).result() == acknowledged + 1
    assert whole(tmp_path / "store.db")


@needs_mounts
def test_a_full_disk_is_a_sentence_and_writing_goes_on_when_there_is_room(tmp_path: Path) -> None:
    script = f"mount -t tmpfs -o size=1m tmpfs {tmp_path} && head -c 300000 /dev/zero > {tmp_path}/ballast"
    program = child(
        "fill", str(tmp_path), wrapped=("unshare", "-m", "sh", "-c", f'{script} && exec "$@"', "sh")
    )
    said, errors = program.communicate()
    lines = said.splitlines()
    assert lines[0] == "mode normal", errors
    _, number, sentence = lines[1].split(" ", 2)
    assert int(number) > 10
    assert f"The disk that holds {tmp_path} is full" in sentence
    assert lines[2] == f"read {int(number) - 1}"
    assert lines[3] == f"ack {number}"
    assert lines[4] == f"kept {number}"


@needs_mounts
def test_a_full_disk_at_the_start_leaves_a_place_to_work(tmp_path: Path) -> None:
    script = f"mount -t tmpfs -o size=64k tmpfs {tmp_path} && (cat /dev/zero > {tmp_path}/ballast; true) 2>&-"
    program = child(
        "open", str(tmp_path), wrapped=("unshare", "-m", "sh", "-c", f'{script} && exec "$@"', "sh")
    )
    said, errors = program.communicate()
    assert "mode elsewhere" in said, errors
    assert "is full" in said or "No space left" in said
    assert "ack 1" in said
    shutil.rmtree(Path(said.split("\nfile ")[1].strip()).parent)


@needs_mounts
@pytest.mark.parametrize("dying", [False, True])
def test_a_read_only_home_shows_its_jobs_and_leaves_a_place_to_work(tmp_path: Path, dying: bool) -> None:
    job = new_store(tmp_path)
    if dying:  # its log still holds the only copy of the newest answers
        program = child("append", str(tmp_path), str(job), "0")
        assert program.stdout is not None
        for _ in range(3):
            program.stdout.readline()
        program.kill()
        program.communicate()
    script = f"mount --bind {tmp_path} {tmp_path} && mount -o remount,bind,ro {tmp_path}"
    program = child(
        "open", str(tmp_path), wrapped=("unshare", "-m", "sh", "-c", f'{script} && exec "$@"', "sh")
    )
    said, errors = program.communicate()
    lines = said.splitlines()
    assert lines[0] == "mode elsewhere", errors
    assert f"The data folder {tmp_path} cannot be used (Read-only file system)." in lines[1]
    assert "jobs 1" in lines
    spare = Path(lines[-1].removeprefix("file ")).parent
    assert f"LOADSTEP_HOME={spare}" in lines[1]
    [acknowledged] = [int(line.split()[1]) for line in lines if line.startswith("ack")]
    assert acknowledged >= 4 if dying else acknowledged == 1
    with Store.open(spare) as later:
        assert len(later.events(job)) == acknowledged
    shutil.rmtree(spare)


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_without_leave_to_write_leaves_a_place_to_work(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    store = Store.open(tmp_path / "home")
    assert store.mode == "elsewhere"
    store.close()


def test_a_file_where_the_folder_should_be_leaves_a_place_to_work(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("not a folder")
    store = Store.open(tmp_path / "home")
    assert store.mode == "elsewhere"
    assert f"The data folder {tmp_path / 'home'} cannot be used (File exists)." in store.notices[0]
    spare = store.file.parent
    store.close()
    assert not spare.exists()  # nothing was kept there, so nothing is left behind


def test_a_sheet_put_into_the_temporary_folder_stays_there(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("not a folder")
    store = Store.open(tmp_path / "home")
    sheet = store.file.parent / "sheets" / "job-1.html"
    sheet.parent.mkdir()
    sheet.write_text("a past job")
    store.close()
    assert [file.name for file in sheet.parent.parent.iterdir()] == ["sheets"]
    shutil.rmtree(sheet.parent.parent)


def test_with_no_disk_at_all_there_is_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "home").write_text("not a folder")
    monkeypatch.setattr("tempfile.mkdtemp", lambda prefix: str(tmp_path / "nowhere"))
    with Store.open(tmp_path / "home") as store:
        assert store.mode == "memory"
        assert "Nothing is kept once loadstep closes: write the sheet before you leave." in store.notices[0]
        job = store.create_job(new_job())
        assert store.append(job, 1, event()).result() == 1
        assert store.events(job) == [event()]
        assert len(store.jobs()) == 1


def test_a_store_locked_at_the_start_leaves_a_place_to_work(tmp_path: Path) -> None:
    new_store(tmp_path)
    with closing(sqlite3.connect(tmp_path / "store.db", isolation_level=None)) as holder:
        holder.execute("PRAGMA journal_mode = DELETE")
        holder.execute("BEGIN EXCLUSIVE")
        began = time.monotonic()
        with Store.open(tmp_path) as store:
            assert time.monotonic() - began < 3
            assert store.mode == "elsewhere"
            assert "Another program is holding" in store.notices[0]
            assert "start loadstep again. Until then jobs are kept in" in store.notices[0]
            assert store.jobs() == []
        holder.execute("ROLLBACK")
    with Store.open(tmp_path) as store:
        assert store.mode == "normal"
        assert len(store.jobs()) == 1
