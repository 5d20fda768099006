"""Settings survive a restart, and a spoiled file costs no more than the settings."""

from pathlib import Path

import pytest

from tui.settings import FILE_NAME, Settings, load, save


def test_what_was_chosen_comes_back(tmp_path: Path) -> None:
    chosen = Settings("bar degC", "light", True, "xx-YY")
    save(tmp_path, chosen)
    assert load(tmp_path) == chosen
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"units": "stone", "theme": "pink", "learner": "yes"}',
        '{"units": {}}',
        "[" * 100000,
    ],
)
def test_what_cannot_be_read_is_as_if_never_chosen(tmp_path: Path, text: str) -> None:
    (tmp_path / FILE_NAME).write_text(text)
    assert load(tmp_path) == Settings()


def test_what_is_good_in_a_file_is_taken(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text('{"units": "kPa degC", "theme": 3, "later": 1}')
    assert load(tmp_path) == Settings("kPa degC")


def test_a_folder_that_takes_nothing_is_no_error(tmp_path: Path) -> None:
    save(tmp_path / "missing", Settings())
    assert load(tmp_path / "missing") == Settings()
