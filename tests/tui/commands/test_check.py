"""`loadstep check` as it is run: what it tells, what it rewrites, and its exit codes."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from engine.job.golden.result import json_schema
from tests.engine.job.golden.test_golden import TINY, WALK, written
from tests.tui.commands.run import loadstep, loadstep_cold


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "flows"
    folder.mkdir()
    shutil.copy(TINY, folder)
    return folder


def test_all_that_holds_is_only_counted(folder: Path) -> None:
    written(folder, "expect: {finding: sound}\n")
    done = loadstep_cold(folder, "check", str(folder))
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "1 walk: 1 as expected.\n")


def test_a_difference_is_shown_and_nothing_is_written(folder: Path) -> None:
    file = Path(written(folder, "expect: {finding: weak}\n"))
    done = loadstep(folder, "check", str(folder))
    assert done.returncode == 1
    assert done.stdout.splitlines() == [
        f"{file}:10:1: this walk comes to something else",
        "  finding",
        "    - weak",
        "    + sound",
    ]
    assert done.stderr == "1 walk: 1 different.\n"
    assert file.read_text() == WALK + "expect: {finding: weak}\n"


def test_accept_rewrites_after_showing(folder: Path) -> None:
    file = Path(written(folder, "expect: {finding: weak}\n"))
    done = loadstep(folder, "check", "--accept", str(folder))
    assert done.returncode == 0
    assert done.stdout.splitlines()[-2:] == ["    + sound", "  accepted"]
    assert file.read_text() == WALK + "expect: {finding: sound}\n"
    assert loadstep(folder, "check", str(folder)).returncode == 0


def test_a_flow_with_errors_is_bad_input_and_nothing_is_accepted(folder: Path) -> None:
    file = Path(written(folder, "expect: {finding: weak}\n"))
    (folder / "tiny.yaml").write_text(TINY.read_text().replace("go: early", "go: erly"))
    done = loadstep(folder, "check", "--accept", str(folder))
    assert (done.returncode, done.stdout) == (2, "")
    assert "there is no step 'erly', did you mean 'early'?" in done.stderr
    assert "1 walk: 1 broken." in done.stderr
    assert file.read_text() == WALK + "expect: {finding: weak}\n"


def test_each_walk_is_one_json_object(folder: Path) -> None:
    written(folder, "expect: {finding: sound}\n", "a.yaml")
    written(folder, "", "b.yaml")
    (folder / "c.yaml").write_text("facts: 1\n")
    done = loadstep(folder, "check", "--json", str(folder))
    first, second, third = map(json.loads, done.stdout.splitlines())
    for each in (first, second, third):
        Draft202012Validator(json_schema()).validate(each)
    assert done.returncode == 2
    assert [each["state"] for each in (first, second, third)] == ["holds", "new", "broken"]
    assert first["expected"] == {"finding": "sound", "path": None}
    assert (second["finding"], second["expected"], second["accepted"]) == ("sound", None, False)
    assert third["problems"][0]["where"] == f"{folder}/c.yaml:1:1"


@pytest.mark.parametrize("place", ["nowhere", "empty", "a" * 5000])
def test_a_place_without_walks_is_refused_in_a_sentence(folder: Path, place: str) -> None:
    (folder / "empty").mkdir()
    done = loadstep(folder, "check", str(folder / place))
    assert done.returncode == 2
    assert done.stderr.startswith("loadstep: ")
    assert done.stderr.endswith(".\n")
    assert "Traceback" not in done.stderr


def test_one_walk_may_be_named(folder: Path) -> None:
    assert loadstep(folder, "check", written(folder, "expect: {finding: sound}\n")).returncode == 0


def test_walks_of_one_file_are_told_by_name(folder: Path) -> None:
    written(folder, "walks:\n  by motor: {facts: {drive: electric}, expect: {finding: sound}}\n")
    done = loadstep(folder, "check", "--json", str(folder))
    [walk] = map(json.loads, done.stdout.splitlines())
    assert (done.returncode, walk["walk"], walk["finding"]) == (1, "by motor", "high-voltage")
    done = loadstep(folder, "check", "--accept", str(folder))
    assert (done.returncode, done.stderr) == (0, "1 walk: 1 different; 1 accepted.\n")
