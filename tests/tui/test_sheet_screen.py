"""Writing the sheet: where, over what, and what is said when it cannot be done."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from textual.widgets import Input

from tests.tui.bare import BareApp
from tui import sheet_file
from tui.screens.question import Question
from tui.screens.sheet import SheetScreen
from tui.sheet_file import SheetFileError, chosen_path, default_path, write


def made(markdown: bool) -> str:
    return "# Sheet\n" if markdown else "<h1>Sheet</h1>"


def told(app: BareApp) -> str:
    return str(app.screen.query_one("#sheet-told").render())


async def pressed(app: BareApp, pilot: object, *keys: str) -> None:
    for key in keys:
        await pilot.press(key)  # type: ignore[attr-defined]
        await pilot.pause()  # type: ignore[attr-defined]


async def test_the_suggested_path_is_in_the_data_folder_and_enter_writes_it(tmp_path: Path) -> None:
    path = default_path(tmp_path, 12)
    app = BareApp(SheetScreen(path, made))
    async with app.run_test(size=(80, 24)) as pilot:
        assert app.screen.query_one(Input).value == str(tmp_path / "sheets" / "job-12.html")
        await pressed(app, pilot, "enter")
        assert path.read_text(encoding="utf-8") == "<h1>Sheet</h1>"
        assert told(app) == f"Written to {path}. Enter or Esc closes."
        await pressed(app, pilot, "enter")
        assert app.results == [path]


async def test_a_name_that_ends_in_md_gets_markdown(tmp_path: Path) -> None:
    app = BareApp(SheetScreen(tmp_path / "a.html", made))
    async with app.run_test(size=(80, 24)) as pilot:
        app.screen.query_one(Input).value = str(tmp_path / "a.md")
        await pressed(app, pilot, "enter")
        assert (tmp_path / "a.md").read_text(encoding="utf-8") == "# Sheet\n"
        assert not (tmp_path / "a.html").exists()


async def test_nothing_is_overwritten_without_asking(tmp_path: Path) -> None:
    path = tmp_path / "a.html"
    path.write_text("mine", encoding="utf-8")
    app = BareApp(SheetScreen(path, made))
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(app, pilot, "enter")
        assert isinstance(app.screen, Question)
        await pressed(app, pilot, "1")
        assert path.read_text(encoding="utf-8") == "mine"
        assert told(app) == "The file was kept as it is. Choose another name."
        await pressed(app, pilot, "enter", "escape")
        assert path.read_text(encoding="utf-8") == "mine"
        await pressed(app, pilot, "enter", "2")
        assert path.read_text(encoding="utf-8") == "<h1>Sheet</h1>"


async def test_the_marked_answer_is_to_keep_the_file(tmp_path: Path) -> None:
    path = tmp_path / "a.html"
    path.write_text("mine", encoding="utf-8")
    app = BareApp(SheetScreen(path, made))
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(app, pilot, "enter", "enter")
        assert path.read_text(encoding="utf-8") == "mine"


async def test_escape_writes_nothing(tmp_path: Path) -> None:
    app = BareApp(SheetScreen(tmp_path / "a.html", made))
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(app, pilot, "up", "down", "escape")
        assert app.results == [None]
        assert list(tmp_path.glob("*.html")) == []


async def test_a_full_disk_is_a_sentence_and_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_text", full)
    app = BareApp(SheetScreen(tmp_path / "a.html", made))
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(app, pilot, "enter")
        assert "could not be written: the disk is full. Free some space on it" in told(app)
    assert list(tmp_path.iterdir()) == []


async def test_typing_after_writing_writes_again(tmp_path: Path) -> None:
    app = BareApp(SheetScreen(tmp_path / "a.html", made))
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(app, pilot, "enter")
        app.screen.query_one(Input).value = str(tmp_path / "b.html")
        await pressed(app, pilot, "enter")
        assert (tmp_path / "b.html").exists()
        assert app.results == []


@pytest.mark.parametrize("size", [(40, 15), (80, 24), (160, 50)])
async def test_it_fits_and_survives_one_cell(tmp_path: Path, size: tuple[int, int]) -> None:
    app = BareApp(SheetScreen(tmp_path / "a.html", made))
    async with app.run_test(size=size) as pilot:
        for each in ((1, 1), size):
            await pilot.resize_terminal(*each)
            await pilot.pause()
        box = app.screen.query_one("#sheet-box").region
        assert box.width <= size[0]
        assert box.bottom <= size[1]
        assert app.screen.query_one("#sheet-taps").region.bottom <= size[1]


# The file


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Type the name of a file"),
        ("   ", "Type the name of a file"),
        ("sheet.pdf", "must end in .html"),
        ("sheet", "must end in .html"),
        ("a\0b.html", "cannot be the name of a file"),
        ("~nobody-of-this-name/a.html", "cannot be the name of a file"),
    ],
)
def test_names_that_cannot_be_used_have_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(SheetFileError, match=sentence):
        chosen_path(text)


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(SheetFileError, match="is a folder"):
        chosen_path(str(tmp_path))


def test_home_and_capital_endings_are_understood(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    assert chosen_path("~/Sheet.HTML") == tmp_path / "Sheet.HTML"


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(SheetFileError, match="the folder is not there"):
        write(tmp_path / "none" / "a.html", "x")


@pytest.mark.parametrize("code", [errno.EACCES, errno.EROFS, errno.EIO])
def test_every_refusal_of_the_disk_names_the_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(SheetFileError, match=r"a\.html could not be written: "):
        write(tmp_path / "a.html", "x")
    assert list(tmp_path.iterdir()) == []


def test_replacing_is_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.html"
    path.write_text("old", encoding="utf-8")

    def refuse(*_: object) -> None:
        raise OSError(errno.EIO, "broken")

    monkeypatch.setattr(sheet_file.Path, "replace", refuse)
    with pytest.raises(SheetFileError):
        write(path, "new", replace=True)
    assert path.read_text(encoding="utf-8") == "old"
