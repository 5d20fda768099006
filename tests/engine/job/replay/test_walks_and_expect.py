"""A replay file may say what its walk must come to, and hold more walks that change its facts."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from engine.job.replay.expected import Expected
from engine.job.replay.file import ReplayFile, read_replay
from engine.job.replay.problem import ReplayErrors
from engine.job.replay.run import replayed

FACTS = """\
format: 1
flow: tiny.yaml
facts:
  drive: belt
  contents: none
  refrigerant: R-134a
  baseline: {low_side: 40, high_side: 10}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(Path(__file__).parent / "tiny.yaml", tmp_path)
    return tmp_path


def _read(folder: Path, more: str) -> ReplayFile:
    (folder / "job.yaml").write_text(FACTS + more)
    return read_replay(str(folder / "job.yaml"))


def _facts(file: ReplayFile) -> dict[str, str]:
    return {fact.full_name: fact.text for fact in file.facts}


def test_a_walk_has_the_facts_of_the_file_with_its_own_over_them(folder: Path) -> None:
    file = _read(folder, "walks:\n  by motor: {facts: {drive: electric, baseline: {low_side: 30}}}\n")
    [walk] = file.walks
    assert (walk.walk, str(walk.place)) == ("by motor", f"{folder}/job.yaml:9:3")
    assert _facts(walk) == _facts(file) | {"drive": "electric", "baseline.low_side": "30"}
    assert replayed(walk).walk.facts.get("drive") == "electric"


def test_a_walk_may_change_nothing_or_take_a_fact_away(folder: Path) -> None:
    file = _read(folder, "walks:\n  same: {}\n  less: {facts: {drive: unknown}}\n")
    same, less = file.walks
    assert _facts(same) == _facts(file)
    assert "drive" not in replayed(less).given.entries


def test_a_walk_may_take_a_whole_set_away(folder: Path) -> None:
    [walk] = _read(folder, "walks:\n  less: {facts: {baseline: unknown}}\n").walks
    assert [name for name in _facts(walk) if "baseline" in name] == []
    assert replayed(walk).given.entries.keys() == {"drive", "contents", "refrigerant"}


def test_a_problem_in_a_walk_is_told_where_it_is(folder: Path) -> None:
    [walk] = _read(folder, "walks:\n  odd: {facts: {drive: rope}}\n").walks
    with pytest.raises(ReplayErrors) as caught:
        replayed(walk)
    assert caught.value.problems[0].where == f"{folder}/job.yaml:9:24"


def test_what_is_expected_is_read_for_the_file_and_for_each_walk(folder: Path) -> None:
    file = _read(
        folder, "expect:\n  finding: weak\n  path: [a, b]\nwalks:\n  odd: {expect: {finding: sound}}\n"
    )
    assert isinstance(file.expected, Expected)
    assert (file.expected.finding, file.expected.path) == ("weak", ("a", "b"))
    assert str(file.expected.place) == f"{folder}/job.yaml:8:1"
    [walk] = file.walks
    assert walk.expected is not None
    assert (walk.expected.finding, walk.expected.path) == ("sound", None)
    assert str(walk.expected.place) == f"{folder}/job.yaml:12:9"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("expect: weak", "8:1: expect is no mapping, write finding: NAME under it"),
        ("expect: {}", "8:1: expect is no mapping, write finding: NAME under it"),
        ("expect: {findng: weak}", "8:10: there is no key 'findng' in expect, did you mean 'finding'?"),
        ("expect: {finding: [a]}", "8:10: finding is no name, write one"),
        ("expect: {path: a}", "8:10: path is no list of steps, write path: [STEP, STEP]"),
        ("expect: {path: [a, {b: c}]}", "8:10: path is no list of steps, write path: [STEP, STEP]"),
        ("walks: [a]", "8:1: walks is no mapping, write NAME: {facts: {...}, expect: {...}} lines under it"),
        ("walks: {a: b}", "8:9: 'a' is no walk, write {facts: {...}, expect: {...}}"),
        ("walks: {a: {fact: {}}}", "8:13: there is no key 'fact' here, did you mean 'facts'?"),
        ("walks: {a: {facts: b}}", "8:13: facts is no mapping, write facts: {NAME: TEXT}"),
        ("walks: {a: {expect: {path: b}}}", "8:22: path is no list of steps, write path: [STEP, STEP]"),
    ],
)
def test_what_is_wrong_with_it_is_told(folder: Path, text: str, told: str) -> None:
    with pytest.raises(ReplayErrors) as caught:
        _read(folder, text + "\n")
    assert str(caught.value) == f"{folder}/job.yaml:{told}"
