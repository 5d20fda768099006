"""Everything that can be wrong with a replay file, told with its place and a remedy."""

import os
from pathlib import Path

import pytest

from engine.job.replay.problem import ReplayErrors
from engine.job.replay.run import replay_file
from tests.engine.job.replay.files import GOOD, HEAD, problems_of
from tests.pace import Paced


@pytest.mark.parametrize(
    ("line", "kind", "where", "message", "hint"),
    [
        ("  low_sdie: 40", "name", "4:3", "no reading 'low_sdie'", "did you mean 'low_side'?"),
        ("  lowded: {low_side: 40}", "name", "4:12", "no set 'lowded'", "did you mean 'loaded'?"),
        ("  loaded: {hihg_side: 40}", "name", "4:12", "'hihg_side'", "did you mean 'high_side'?"),
        ("  loaded: {superheat: 5 K}", "computed", "4:12", "'superheat' is computed", "leave it out"),
        ("  atmospheric_pressure: 1 bara", "computed", "4:3", "is computed", "leave it out"),
        ("  loaded: 41 psi", "name", "4:3", "'loaded' is a set", "indented"),
        ("  loaded.low_side: 41 psi", "name", "4:3", "'loaded.low_side' is no reading", "write loaded:"),
        ("  low_side: {low_side: 4}", "name", "4:14", "is a reading, not a set", "give it as text"),
        ("  drive: diesel", "value", "4:10", "'diesel' is none of its choices", ""),
        ("  drive: electrik", "value", "4:10", "did you mean 'electric'?", ""),
        ("  drive: 1", "value", "4:10", "'1' is none of its choices", ""),
        ("  drive:", "value", "4:9", "write unknown", ""),
        ("  contents: none, air", "value", "4:13", "leaves no room", ""),
        ("  elevation: high", "value", "4:14", "'elevation'", ""),
        ("  elevation: 40 psi", "value", "4:14", "pressure", ""),
        ("  elevation: 1e3 m", "value", "4:14", "1e3", ""),
        ("  elevation: 90000 m", "value", "4:14", "outside", ""),
        ("  elevation: .nan", "value", "4:14", "nan", ""),
        ("  loaded: {low_side: -40 psi}", "value", "4:22", "perfect vacuum", ""),
        ("  loaded: {low_side: 40 psia}", "value", "4:22", "absolute", ""),
        ("  loaded: {read_after: long}", "value", "4:24", "long", "20 s"),
        ("  loaded: {read_after: -5 s}", "value", "4:24", "below zero", "20 s"),
        ("  read_after: 20 s", "name", "4:3", "'read_after'", ""),
        ("  asked_again: {frosst: line}", "name", "4:17", "no reading 'frosst'", "'frost'"),
        ("  asked_again: {drive: diesel}", "value", "4:24", "'diesel' is none of its choices", ""),
        ("  loaded: {low_side: {a: b}}", "format", "4:12", "is no text", "NAME: TEXT"),
        ("  drive: [belt, [belt]]", "format", "4:3", "is no text", "NAME: TEXT"),
        ("  drive: belt\n  drive: belt", "syntax", "5:3", "twice", "line 4"),
        ("  drive: &a belt", "syntax", "4:10", "anchor", ""),
        ("  drive: *a", "syntax", "4:10", "alias", ""),
        ("  drive: !!python/name:os.system x", "syntax", "4:10", "tag", ""),
        ("  drive: [", "syntax", "", "", ""),
        ("  drive: be\x1blt", "file", "4:", "U+001B", ""),
    ],
)
def test_facts(tmp_path: Path, line: str, kind: str, where: str, message: str, hint: str) -> None:
    (problem, *_) = problems_of(tmp_path, f"{HEAD}{line}\n")
    assert problem.kind == kind
    assert problem.where.startswith(f"{tmp_path / 'job.yaml'}:{where}")
    assert message in problem.message
    assert hint in problem.hint


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("", "syntax", "empty"),
        ("facts: {drive: belt}\n", "format", "format is missing"),
        ("format: 2\nfacts: {drive: belt}\n", "format", "format is '2'"),
        ("format: [1]\nfacts: {drive: belt}\n", "format", "format is something else"),
        ("format: 1\n", "format", "facts is missing"),
        ("format: 1\nfacts: belt\n", "format", "facts is missing or no mapping"),
        ("format: 1\nfacts:\n", "format", "facts is missing or no mapping"),
        ("- format: 1\n", "format", "mapping"),
        ("belt\n", "format", "mapping"),
        ("format: 1\nflow: [a]\nfacts: {drive: belt}\n", "format", "flow is no name"),
        ("format: 1\nfact: {drive: belt}\nfacts: {drive: belt}\n", "format", "no key 'fact'"),
        ("format: 1\nflow: stroke_by_laod\nfacts: {drive: belt}\n", "flow", "did you mean 'stroke_by_load'"),
        ("format: 1\nflow: ./nowhere.yaml\nfacts: {drive: belt}\n", "flow", "no flow file"),
        ("format: 1\nflow: ./job.yaml\nfacts: {drive: belt}\n", "flow", "has problems"),
        ("format: 1\n---\nformat: 1\n", "syntax", "second document"),
        (b"format: 1\nfacts: {drive: \xff\xfe}\n", "file", "not UTF-8"),
        (b"\x00" * 50, "file", "U+0000"),
    ],
)
def test_layout(tmp_path: Path, text: str | bytes, kind: str, message: str) -> None:
    (problem, *_) = problems_of(tmp_path, text)
    assert problem.kind == kind
    assert message in problem.message
    assert "\x00" not in str(problem)


def test_every_problem_of_the_facts_is_told_in_order(tmp_path: Path) -> None:
    text = (
        f"{HEAD}  driev: belt\n  elevation: high\n  nowhere: {{a: 1, b: 2}}\n  loaded: {{superheat: 5 K}}\n"
    )
    problems = problems_of(tmp_path, text)
    assert [problem.kind for problem in problems] == ["name", "value", "name", "computed"]


def test_gauges_read_against_the_air_of_the_file(tmp_path: Path) -> None:
    # At 3000 m the air has 70.1 kPa (ISO 2533): no gauge there reads 75 kPa below it; at sea level one can.
    deep = f"{HEAD}  baseline: {{low_side: -75 kPa}}\n"
    (problem,) = problems_of(tmp_path, f"{deep}  elevation: 3000 m\n")
    assert "-70 kPa" in problem.message
    with pytest.raises(AssertionError, match="walked to"):
        problems_of(tmp_path, deep)


def _kind_and_message(path: Path | str) -> tuple[str, str]:
    with pytest.raises(ReplayErrors) as caught:
        replay_file(str(path))
    (problem,) = caught.value.problems
    assert problem.where.startswith(str(path))
    return problem.kind, problem.message


def test_what_is_no_ordinary_file(tmp_path: Path) -> None:
    assert _kind_and_message(tmp_path / "none.yaml") == ("file", "there is no such file")
    assert _kind_and_message(tmp_path) == ("file", "this is a folder")
    os.mkfifo(tmp_path / "pipe")
    assert _kind_and_message(tmp_path / "pipe") == ("file", "this is not an ordinary file")
    assert _kind_and_message("/dev/zero") == ("file", "this is not an ordinary file")
    assert _kind_and_message("a\0b") == ("file", "this is no path")
    assert _kind_and_message("x" * 5000)[0] == "file"
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert _kind_and_message(tmp_path / "loop")[0] == "file"


def _bomb() -> str:
    levels = "".join(f"  a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12))
    return f"{HEAD}  a0: &a0 lol\n{levels}"


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "  drive: " + "x" * 50_000_000,
        _bomb(),
        HEAD + "  drive: " + "[" * 100_000,
        HEAD + "  a:\n" + "".join(" " * (3 + n) + "a:\n" for n in range(1000)),
        HEAD + "  elevation: " + "9" * 900_000,
        HEAD + "".join(f"  name{n}: 1\n" for n in range(60_000)),
        HEAD + "  " + "k" * 500_000 + ": 1\n",
    ],
    ids=["50 MB", "alias bomb", "flow depth", "block depth", "huge number", "many names", "huge key"],
)
def test_hostile_files_are_refused_at_once(tmp_path: Path, text: str) -> None:
    with Paced() as cost:
        (problem, *_) = problems_of(tmp_path, text)
    assert cost.paces < 40  # the 2 s of the issue
    assert len(problem.message) < 500
    assert len(problem.hint) < 500


def test_a_good_file_with_windows_line_ends_and_a_mark(tmp_path: Path) -> None:
    text = b"\xef\xbb\xbf" + (HEAD + GOOD).replace("\n", "\r\n").encode()
    with pytest.raises(AssertionError, match="finding='sound'"):
        problems_of(tmp_path, text)
