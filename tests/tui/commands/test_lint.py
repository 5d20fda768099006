"""`loadstep lint` as an instructor uses it."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

from tests.tui.commands.run import environment, loadstep

TINY = Path(__file__).parents[2] / "engine/job/replay/tiny.yaml"


def _broken(folder: Path) -> Path:
    path = folder / "tiny.yaml"
    text = TINY.read_text(encoding="utf-8")
    path.write_text(text.replace("next: caps", "next: cap").replace("revision: 3", "revision: three"))
    return path


def test_a_good_flow_prints_no_problem(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint", str(TINY))
    assert (done.returncode, done.stdout) == (0, "")
    assert done.stderr == f"{TINY}: no problems.\n"


def test_a_flow_that_comes_along_is_named_without_a_path(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint", "stroke_by_load")
    assert (done.returncode, done.stdout) == (0, "")


def test_one_line_a_problem_with_place_and_hint(tmp_path: Path) -> None:
    path = _broken(tmp_path)
    done = loadstep(tmp_path, "lint", str(path))
    assert done.returncode == 1
    lines = done.stdout.splitlines()
    assert all(line.startswith(f"{path}:") for line in lines)
    assert any("did you mean 'caps'?" in line for line in lines)
    assert any(line.startswith(f"{path}:4:") for line in lines), "the revision stands in line 4"


def test_json_is_one_object_a_problem(tmp_path: Path) -> None:
    path = _broken(tmp_path)
    done = loadstep(tmp_path, "lint", str(path), "--json")
    assert done.returncode == 1
    told = [json.loads(line) for line in done.stdout.splitlines()]
    assert told
    for each in told:
        assert list(each) == ["file", "line", "column", "what", "hint"]
        assert each["file"] == str(path)
        assert isinstance(each["line"], int)


def test_every_file_has_its_turn_and_the_highest_code_wins(tmp_path: Path) -> None:
    path = _broken(tmp_path)
    shutil.copy(TINY, tmp_path / "good.yaml")
    done = loadstep(tmp_path, "lint", str(tmp_path / "none.yaml"), str(path), str(tmp_path))
    assert done.returncode == 2
    assert "none.yaml" in done.stdout
    assert f"{path}:" in done.stdout
    assert "folder" in done.stdout


def test_it_loads_neither_coolprop_nor_textual(tmp_path: Path) -> None:
    program = (
        "import sys; from tui.commands.main import main\n"
        "code = main(['lint', 'stroke_by_load'])\n"
        "print(sorted({'CoolProp', 'textual', 'numpy', 'rich'} & set(sys.modules)))\n"
        "sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", program],
        env=environment(tmp_path),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stdout) == (0, "[]\n")
