"""`loadstep lint` as an instructor uses it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from engine.flow.lint.registry import RULES
from tests.engine.flow.lint.clean import CLEAN
from tests.engine.flow.small import changed
from tests.tui.commands.run import environment, loadstep, loadstep_cold

OTHER_RULES = ["unused-waiver", "not-said", "not-reviewed", "changed-since-review"]
"""Rules about waivers and about words in other languages."""

WARNED = ("when: gap >= 3 K and gap < 9 K, go: gauges", "when: gap >= 4 K, go: judge")


def _clean(folder: Path) -> Path:
    path = folder / "clean.yaml"
    path.write_text(CLEAN, encoding="utf-8")
    return path


def _broken(folder: Path) -> Path:
    path = folder / "clean.yaml"
    path.write_text(
        changed(("    next: off", "    next: of"), ("revision: 1", "revision: one"), text=CLEAN),
        encoding="utf-8",
    )
    return path


def _warned(folder: Path) -> Path:
    path = folder / "clean.yaml"
    path.write_text(changed(WARNED, text=CLEAN), encoding="utf-8")
    return path


def test_a_good_flow_prints_no_problem(tmp_path: Path) -> None:
    path = _clean(tmp_path)
    done = loadstep_cold(tmp_path, "lint", str(path))
    assert (done.returncode, done.stdout) == (0, "")
    assert done.stderr == f"{path}: no problems.\n"


def test_a_flow_that_comes_along_is_named_without_a_path_and_has_no_warning(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint", "--strict", "stroke_by_load")
    assert (done.returncode, done.stdout) == (0, "")


def test_one_line_a_problem_with_place_and_hint(tmp_path: Path) -> None:
    path = _broken(tmp_path)
    done = loadstep(tmp_path, "lint", str(path))
    assert done.returncode == 1
    lines = done.stdout.splitlines()
    assert all(line.startswith(f"{path}:") for line in lines)
    assert any("did you mean 'off'?" in line for line in lines)
    assert any(line.startswith(f"{path}:3:") for line in lines), "the revision stands in line 3"


def test_a_warning_names_its_rule_and_leaves_the_exit_code_good(tmp_path: Path) -> None:
    path = _warned(tmp_path)
    done = loadstep(tmp_path, "lint", str(path))
    assert done.returncode == 0
    (line,) = done.stdout.splitlines()
    assert line.startswith(f"{path}:")
    assert "gap between 3 and 4 K" in line
    assert line.endswith(" [range-gap]")
    assert done.stderr == f"{path}: 1 warning, no errors.\n"


def test_strict_takes_a_warning_for_an_error(tmp_path: Path) -> None:
    assert loadstep(tmp_path, "lint", "--strict", str(_warned(tmp_path))).returncode == 1


@pytest.mark.parametrize(
    ("write", "severity", "rule"), [(_broken, "error", None), (_warned, "warning", "range-gap")]
)
def test_json_is_one_object_a_problem(tmp_path: Path, write, severity: str, rule: str | None) -> None:  # type: ignore[no-untyped-def]
    path = write(tmp_path)
    done = loadstep(tmp_path, "lint", str(path), "--json")
    told = [json.loads(line) for line in done.stdout.splitlines()]
    assert told
    for each in told:
        assert list(each) == ["file", "line", "column", "what", "hint", "rule", "severity"]
        assert each["file"] == str(path)
        assert isinstance(each["line"], int)
        assert (each["rule"], each["severity"]) == (rule, severity)


def test_every_file_has_its_turn_and_the_highest_code_wins(tmp_path: Path) -> None:
    path = _broken(tmp_path)
    done = loadstep(tmp_path, "lint", str(tmp_path / "none.yaml"), str(path), str(tmp_path))
    assert done.returncode == 2
    assert "none.yaml" in done.stdout
    assert f"{path}:" in done.stdout
    assert "folder" in done.stdout


def test_the_rules_are_listed_with_why_and_remedy(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint", "--rules")
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    for rule in RULES:
        assert rule.name in lines
    assert sum(line.startswith("    why: ") for line in lines) == len(RULES) + len(OTHER_RULES)
    assert sum(line.startswith("    remedy: ") for line in lines) == len(RULES) + len(OTHER_RULES)


def test_the_rules_as_json(tmp_path: Path) -> None:
    told = [json.loads(line) for line in loadstep(tmp_path, "lint", "--rules", "--json").stdout.splitlines()]
    assert [each["rule"] for each in told] == [rule.name for rule in RULES] + OTHER_RULES
    assert all(list(each) == ["rule", "why", "remedy"] for each in told)


def test_a_list_of_words_from_a_file(tmp_path: Path) -> None:
    words = tmp_path / "brands.txt"
    words.write_text("made-up flow\n", encoding="utf-8")
    done = loadstep(tmp_path, "lint", "--words", str(words), str(_clean(tmp_path)))
    assert done.returncode == 0
    assert done.stdout.count("[unwanted-word]") == 1


def test_a_list_of_words_from_the_data_folder(tmp_path: Path) -> None:
    home = Path(environment(tmp_path)["LOADSTEP_HOME"])
    home.mkdir(parents=True, exist_ok=True)
    (home / "lint-words.txt").write_text("made-up flow\n", encoding="utf-8")
    done = loadstep(tmp_path, "lint", str(_clean(tmp_path)))
    assert done.stdout.count("[unwanted-word]") == 1


def test_a_list_that_is_not_there_is_bad_usage(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint", "--words", str(tmp_path / "none.txt"), str(_clean(tmp_path)))
    assert done.returncode == 2
    assert "none.txt cannot be read" in done.stderr


def test_no_file_at_all_is_bad_usage(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "lint")
    assert done.returncode == 2
    assert "lint needs FILE" in done.stderr


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
