"""`loadstep jobs` and `loadstep sheet`, on jobs kept by a real session."""

import asyncio
from pathlib import Path

import pytest

from engine.flow.library import find
from engine.job.session import Session
from engine.job.store import Store
from tests.tui.commands.run import loadstep, loadstep_cold

TINY = str(Path(__file__).parents[2] / "engine/job/replay/tiny.yaml")
VEHICLE = "Grey van | <b>plate</b> \x1b[31mA-1"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A data folder with one job that was proved and finished, and one just begun."""
    folder = tmp_path / "home"
    asyncio.run(_two_jobs(folder))
    return folder


async def _two_jobs(folder: Path) -> None:
    with Store.open(folder) as store:
        proved = await Session.start(store, find(TINY), vehicle=VEHICLE)
        await proved.answer("electric", "")
        for _ in range(3):
            await proved.cannot_measure()
        await proved.done()
        assert proved.walk.prompt is None
        await Session.start(store, find(TINY))


def test_jobs_lists_them_newest_first(home: Path) -> None:
    done = loadstep_cold(home, "jobs")
    assert (done.returncode, done.stderr) == (0, "")
    newest, oldest = done.stdout.splitlines()
    assert newest.startswith("2  ")
    assert "open after 0 steps" in newest
    assert oldest.startswith("1  ")
    assert "high-voltage" in oldest
    assert "Grey van" in oldest
    assert "\x1b" not in oldest


def test_no_jobs_is_a_sentence(tmp_path: Path) -> None:
    done = loadstep(tmp_path / "new", "jobs")
    assert (done.returncode, done.stdout) == (0, "")
    assert "There are no jobs" in done.stderr


def test_sheet_on_standard_output_is_markdown(home: Path) -> None:
    done = loadstep_cold(home, "sheet", "1")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("# Job sheet")
    assert "High voltage" in done.stdout
    assert "\x1b" not in done.stdout


def test_sheet_as_a_file(home: Path, tmp_path: Path) -> None:
    for name, beginning in (
        ("a.html", "<!DOCTYPE html>"),
        ("b.md", "# Job sheet"),
        ("C.HTML", "<!DOCTYPE html>"),
    ):
        path = tmp_path / name
        run = loadstep_cold if name == "a.html" else loadstep
        done = run(home, "sheet", "1", "--out", str(path))
        assert (done.returncode, done.stdout) == (0, "")
        assert str(path) in done.stderr
        text = path.read_text(encoding="utf-8")
        assert text.startswith(beginning)
        assert "High voltage" in text
        assert "<b>plate</b>" not in text, "what people type is text, never markup"
        assert "\x1b" not in text
    assert sorted(each.name for each in tmp_path.iterdir()) == ["C.HTML", "a.html", "b.md", "home"]


def test_sheet_of_an_open_job_says_that_it_is_open(home: Path) -> None:
    done = loadstep(home, "sheet", "2")
    assert done.returncode == 0
    assert "open" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["3"], "no job 3"),
        (["0"], "no job '0'"),
        (["1.5"], "no job '1.5'"),
        (["\u0661"], "no job"),
        (["9" * 19], "no job"),
        (["1", "--out", "sheet.pdf"], ".html"),
        (["1", "--out", ""], "name of a file"),
        (["1", "--out", "/"], "folder"),
        (["1", "--out", "/no/such/folder/a.html"], "not there"),
        (["1", "--out", "x" * 300 + ".md"], "name"),
    ],
)
def test_what_cannot_be_is_refused(home: Path, words: list[str], said: str) -> None:
    done = loadstep(home, "sheet", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_an_older_sheet_is_replaced_in_one_go(home: Path, tmp_path: Path) -> None:
    kept = tmp_path / "kept.md"
    kept.write_text("old")
    assert loadstep(home, "sheet", "1", "--out", str(kept)).returncode == 0
    assert kept.read_text(encoding="utf-8").startswith("# Job sheet")
    assert not list(tmp_path.glob("*.part"))


def test_a_data_folder_that_cannot_be_used_is_told_not_crashed_on(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    done = loadstep(blocked, "jobs")
    assert done.returncode == 0
    assert "loadstep: " in done.stderr
    assert blocked.read_text() == "not a folder"
