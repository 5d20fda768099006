"""Seeing that a file was saved: once, when the saving is over, however the editor saves."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.job.draft.files import PATIENCE, Mark, Watch, mark

FLOW, PART = Path("flow.yaml"), Path("parts/own.yaml")
FOLDERS = {FLOW.parent: (1, 0, 8), PART.parent: (1, 0, 9)}


class Disk:
    """Files as `mark` would find them."""

    def __init__(self) -> None:
        self.marks: dict[Path, Mark | None] = {FLOW: (1, 10, 1), PART: (1, 20, 2), **FOLDERS}

    def __call__(self, path: Path) -> Mark | None:
        return self.marks[path]


@pytest.fixture
def disk() -> Disk:
    return Disk()


@pytest.fixture
def watch(disk: Disk) -> Watch:
    watch = Watch(disk)
    watch.begin(watch.marks([FLOW, PART]))
    return watch


def test_nothing_is_told_while_nothing_happens(watch: Watch) -> None:
    assert [watch.saved() for _ in range(4)] == [False] * 4


@pytest.mark.parametrize("path", [FLOW, PART, PART.parent])
def test_a_save_counts_once_it_was_seen_twice(disk: Disk, watch: Watch, path: Path) -> None:
    disk.marks[path] = (2, 11, 1)
    assert [watch.saved() for _ in range(3)] == [False, True, True]
    watch.begin(watch.marks([FLOW, PART]))
    assert not watch.saved()


def test_what_is_still_being_written_is_waited_for(disk: Disk, watch: Watch) -> None:
    told = []
    for size in (4, 8, 12, 12, 12):
        disk.marks[FLOW] = (size, size, 1)
        told.append(watch.saved())
    assert told == [False, False, False, True, True]


def test_a_file_put_in_the_place_of_another_counts(disk: Disk, watch: Watch) -> None:
    disk.marks[FLOW] = (1, 10, 7)  # the same size, the same time: another file
    assert [watch.saved(), watch.saved()] == [False, True]


def test_a_file_that_is_gone_for_a_moment_is_waited_for(disk: Disk, watch: Watch) -> None:
    disk.marks[FLOW] = None
    assert not any(watch.saved() for _ in range(PATIENCE - 1))
    disk.marks[FLOW] = (2, 11, 7)
    assert [watch.saved(), watch.saved()] == [False, True]


def test_a_file_that_stays_away_is_told_in_the_end(disk: Disk, watch: Watch) -> None:
    disk.marks[PART] = None
    assert [watch.saved() for _ in range(PATIENCE + 1)] == [False] * PATIENCE + [True]


def test_a_save_between_marking_and_beginning_is_not_missed(disk: Disk) -> None:
    watch = Watch(disk)
    before = watch.marks([FLOW])
    disk.marks[FLOW] = (2, 11, 1)  # saved while the old one was being read
    watch.begin(before)
    assert [watch.saved(), watch.saved()] == [False, True]


def test_the_mark_of_a_file_is_read_without_opening_it(tmp_path: Path) -> None:
    path = tmp_path / "flow.yaml"
    assert mark(path) is None
    path.write_text("a")
    first = mark(path)
    path.write_text("ab")
    assert first is not None
    assert mark(path) != first
    assert mark(Path("a\0b")) is None
