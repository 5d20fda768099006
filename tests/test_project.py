"""What holds for the project as a whole: what imports bring along, how long modules are, what is told."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from engine.job.replay.run import replay_file

ROOT = Path(__file__).parent.parent
ROOMS = ("engine", "tui", "flows", "tests")
LONGEST_MODULE = 400


def _modules(*rooms: str) -> list[Path]:
    return [path for room in rooms for path in sorted((ROOT / room).rglob("*.py"))]


def _name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _loaded(*modules: str) -> set[str]:
    """All modules that importing `modules` loads, in a process of its own."""
    program = f"import sys, {', '.join(modules)}\nprint(' '.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-P", "-c", program], cwd=ROOT, capture_output=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.split())


def _packages(*modules: str) -> set[str]:
    """The top-level packages among them."""
    return {name.partition(".")[0] for name in _loaded(*modules)}


COOLPROP_USERS = {
    name
    for name in map(_name, _modules("engine", "tui"))
    if name.endswith(".make_tables") or name == "tui.commands.precise"
}


def test_coolprop_comes_only_with_those_who_may() -> None:
    others = [name for name in map(_name, _modules("engine", "tui", "flows")) if name not in COOLPROP_USERS]
    assert "CoolProp" not in _packages(*others)
    for user in COOLPROP_USERS:  # read, not run: each import of the library takes seconds
        told = (ROOT / f"{user.replace('.', '/')}.py").read_text(encoding="utf-8")
        assert "\nfrom CoolProp import" in told, f"{user} has no need to be an exception"


def test_the_engine_draws_nothing() -> None:
    modules = [name for name in map(_name, _modules("engine")) if name not in COOLPROP_USERS]
    assert not {"textual", "rich", "tui"} & _packages(*modules)


def test_the_start_path_waits_for_no_loader() -> None:
    loaded = _loaded("tui.commands.main", "tui.commands.start", "tui.commands.terminal", "tui.app")
    loaded |= _loaded("engine.job.store", "engine.job.events")
    slow = {"yaml", "pydantic", "jinja2", "CoolProp", "numpy", "engine.flow.load", "engine.flow.schema"}
    assert not slow & loaded


@pytest.mark.parametrize("module", ["engine.job.events", "engine.job.store", "engine.flow.index"])
def test_what_the_start_path_uses_knows_no_flow(module: str) -> None:
    loaded = _loaded(module)
    assert not {"yaml", "pydantic", "engine.flow.model", "engine.flow.load"} & loaded


@pytest.mark.parametrize(
    "command",
    [
        "grammar",
        "main",
        "lint",
        "replay",
        "flows",
        "jobs",
        "sheet",
        "saturation",
        "schema",
        "new",
        "check",
        "try_draft",
    ],
)
def test_commands_that_draw_nothing_load_no_textual(command: str) -> None:
    assert not {"textual", "rich", "CoolProp"} & _packages(f"tui.commands.{command}")


@pytest.mark.parametrize("room", ["engine", "tui", "flows"])
def test_a_room_imports_nothing_by_itself(room: str) -> None:
    text = (ROOT / room / "__init__.py").read_text(encoding="utf-8")
    assert "import" not in text


def test_no_module_is_longer_than_it_may_be() -> None:
    lengths = {_name(path): len(path.read_text(encoding="utf-8").splitlines()) for path in _modules(*ROOMS)}
    assert {name: length for name, length in lengths.items() if length > LONGEST_MODULE} == {}


def test_everything_we_run_on_is_pinned() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    every = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    assert [line for line in every if "==" not in line] == []


def test_changelog_and_readme_are_for_this_version() -> None:
    version = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert f"## {version}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_readme_names_every_command() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = ("replay", "lint", "flows", "jobs", "sheet", "saturation", "trial", "walk")
    for command in (*commands, "new", "try", "check", "draw", "schema", "help"):
        assert f"loadstep {command}" in readme


def test_the_replay_file_of_the_readme_can_be_replayed(tmp_path: Path) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    (tmp_path / "job.yaml").write_text(readme.partition("```yaml\n")[2].partition("```")[0], encoding="utf-8")
    replayed = replay_file(str(tmp_path / "job.yaml"))
    assert "baseline.low_side" in replayed.given.entries
    assert replayed.given.waited == {"loaded": 20.0}


def test_ci_runs_the_test_command_of_the_readme() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "pip install -q -e '.[test]' && .venv/bin/pytest" in readme
    assert "pip\" install -q -e '.[test]'" in ci
    assert '"$bin/pytest"' in ci
