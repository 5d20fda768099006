"""`loadstep new`: what it writes is right at once, and nothing that is there is touched."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.lint.run import lint
from tests.engine.job.test_schemas import as_an_editor_reads, complaints
from tests.tui.commands.run import loadstep, loadstep_cold

FILES = {
    "mine.yaml",
    "examples/mine.yaml",
    "schema/flow-v1.json",
    "schema/part-v1.json",
    "schema/replay-v1.json",
}


def _below(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    done = loadstep(tmp_path / "home", "new", "mine", "--in", str(tmp_path / "flows"))
    assert done.returncode == 0, done.stderr
    assert {str(Path(line).relative_to(tmp_path / "flows")) for line in done.stdout.splitlines()} == FILES
    return tmp_path / "flows"


def test_it_lints_clean_with_every_warning(folder: Path) -> None:
    assert [str(problem) for problem in lint(folder / "mine.yaml")] == []
    done = loadstep(folder, "lint", str(folder / "mine.yaml"))
    assert (done.returncode, done.stdout) == (0, "")


def test_its_golden_walks_hold_and_can_be_replayed(folder: Path) -> None:
    done = loadstep(folder, "check", str(folder))
    assert (done.returncode, done.stderr) == (0, "3 walks: 3 as expected.\n")
    done = loadstep(folder, "replay", str(folder / "examples" / "mine.yaml"))
    assert done.returncode == 0
    assert "The condenser gets the air it needs" in done.stdout


@pytest.mark.parametrize(("kind", "name"), [("flow", "mine.yaml"), ("replay", "examples/mine.yaml")])
def test_editors_find_its_schema(folder: Path, kind: str, name: str) -> None:
    path = folder / name
    first = path.read_text().partition("\n")[0]
    named = path.parent / first.removeprefix("# yaml-language-server: $schema=")
    assert named.resolve() == folder / "schema" / f"{kind}-v1.json"
    assert complaints(kind, as_an_editor_reads(path)) == []


def test_no_placeholder_is_left(folder: Path) -> None:
    assert [name for name in FILES if "NAME" in (folder / name).read_text() and name.endswith("yaml")] == []


def test_nothing_is_overwritten(folder: Path) -> None:
    (folder / "mine.yaml").write_text("my own words\n")
    done = loadstep(folder, "new", "mine", "--in", str(folder))
    assert done.returncode == 2
    assert done.stderr.startswith(
        f"loadstep: {folder}/mine.yaml is there already, and nothing is overwritten; "
    )
    assert (folder / "mine.yaml").read_text() == "my own words\n"


def test_a_second_flow_goes_beside_the_first(folder: Path) -> None:
    done = loadstep_cold(folder, "new", "yours", "--in", str(folder))
    assert done.returncode == 0
    assert len(done.stdout.splitlines()) == 2
    assert _below(folder) > FILES


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (
            "2nd",
            "loadstep: '2nd' is no name; begin with a letter, then letters, digits, - and _, at most 60.",
        ),
        ("not", "loadstep: 'not' is a word of the condition language; choose another name."),
        (
            "../up",
            "loadstep: '../up' is no name; begin with a letter, then letters, digits, - and _, at most 60.",
        ),
        (
            "stroke_by_load",
            "loadstep: a flow called 'stroke_by_load' comes with the program; choose another name.",
        ),
    ],
)
def test_a_name_that_cannot_be_is_refused(tmp_path: Path, name: str, told: str) -> None:
    done = loadstep(tmp_path / "home", "new", name, "--in", str(tmp_path / "flows"))
    assert (done.returncode, done.stderr) == (2, told + "\n")
    assert not (tmp_path / "flows").exists()


def test_a_folder_that_cannot_be_written_is_told_and_nothing_is_left(tmp_path: Path) -> None:
    (tmp_path / "flows").mkdir()
    (tmp_path / "flows" / "examples").write_text("a file where a folder is needed")
    done = loadstep(tmp_path / "home", "new", "mine", "--in", str(tmp_path / "flows"))
    assert done.returncode == 2
    assert done.stderr.startswith(f"loadstep: {tmp_path}/flows cannot be written to (")
    assert [path.name for path in (tmp_path / "flows").iterdir()] == ["examples"]
