"""A replay file may be like another one, and say what its walk must come to."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from engine.job.replay.file import read_replay
from engine.job.replay.layout import Expected
from engine.job.replay.problem import ReplayErrors
from engine.job.replay.run import replay_file

BASE = """\
format: 1
flow: ../tiny.yaml
facts:
  drive: belt
  contents: none
  elevation: 1000
  refrigerant: R-134a
  baseline: {low_side: 40, high_side: 10}
"""


@pytest.fixture
def base(tmp_path: Path) -> Path:
    """A folder with the base in a subfolder, from which the flow is named."""
    shutil.copy(Path(__file__).parent / "tiny.yaml", tmp_path)
    (tmp_path / "base").mkdir()
    (tmp_path / "base" / "sound.yaml").write_text(BASE)
    return tmp_path


def _written(folder: Path, text: str, name: str = "job.yaml") -> str:
    (folder / name).write_text("format: 1\n" + text)
    return str(folder / name)


def test_a_file_takes_the_facts_of_the_one_it_is_like_and_lays_its_own_over_them(base: Path) -> None:
    file = _written(base, "like: base/sound.yaml\nfacts: {drive: electric, baseline: {low_side: 30}}\n")
    facts = {fact.full_name: fact.text for fact in read_replay(file).facts}
    assert facts["drive"] == "electric"
    assert facts["contents"] == "none"
    assert (facts["baseline.low_side"], facts["baseline.high_side"]) == ("30", "10")


def test_the_flow_is_the_one_the_base_names_from_its_own_folder(base: Path) -> None:
    file = _written(base, "like: base/sound.yaml\nfacts: {}\n")
    assert replay_file(file).walk.flow.name == "tiny"


def test_a_flow_named_here_comes_before_that_of_the_base(base: Path) -> None:
    file = _written(base, "flow: tiny.yaml\nlike: base/sound.yaml\nfacts: {}\n")
    assert replay_file(file).walk.flow.name == "tiny"


def test_a_fact_said_unknown_takes_that_of_the_base_away(base: Path) -> None:
    file = _written(base, "like: base/sound.yaml\nfacts: {drive: unknown}\n")
    assert "drive" not in replay_file(file).given.entries


def test_a_problem_in_the_base_is_told_where_it_is(base: Path) -> None:
    (base / "base" / "sound.yaml").write_text(BASE.replace("drive: belt", "drive: rope"))
    with pytest.raises(ReplayErrors) as caught:
        replay_file(_written(base, "like: base/sound.yaml\nfacts: {}\n"))
    assert caught.value.problems[0].where == f"{base}/base/sound.yaml:4:10"


def _refused(folder: Path, text: str) -> str:
    with pytest.raises(ReplayErrors) as caught:
        read_replay(_written(folder, text))
    return str(caught.value)


def test_a_base_that_is_not_there_is_told_at_the_line_that_names_it(base: Path) -> None:
    told = _refused(base, "like: base/sond.yaml\nfacts: {}\n")
    assert told.startswith(f"{base}/job.yaml:2:7: {base}/base/sond.yaml: there is no such file")


def test_no_chain_of_bases(base: Path) -> None:
    _written(base, "like: base/sound.yaml\nfacts: {}\n", "middle.yaml")
    told = _refused(base, "like: middle.yaml\nfacts: {}\n")
    assert "is itself like another file, name that one here" in told


def test_what_is_expected_is_read(base: Path) -> None:
    file = _written(base, "facts: {}\nexpect:\n  finding: weak\n  path: [a, b]\n")
    expected = read_replay(file).expected
    assert isinstance(expected, Expected)
    assert (expected.finding, expected.path) == ("weak", ("a", "b"))
    assert str(expected.place) == f"{file}:3:1"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("expect: weak", "4:1: expect is no mapping, write finding: NAME under it"),
        ("expect: {}", "4:1: expect is no mapping, write finding: NAME under it"),
        ("expect: {findng: weak}", "4:10: there is no key 'findng' in expect, did you mean 'finding'?"),
        ("expect: {finding: [a]}", "4:10: finding is no name, write one"),
        ("expect: {path: a}", "4:10: path is no list of steps, write path: [STEP, STEP]"),
        ("expect: {path: [a, {b: c}]}", "4:10: path is no list of steps, write path: [STEP, STEP]"),
        ("like: [a]", "4:1: like is no name, write the path of another replay file"),
    ],
)
def test_what_is_wrong_with_it_is_told(base: Path, text: str, told: str) -> None:
    assert _refused(base, f"flow: tiny.yaml\nfacts: {{}}\n{text}\n") == f"{base}/job.yaml:{told}"
