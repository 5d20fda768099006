"""flows/README.md from zero: its files are written, its commands run, their output compared, in its order.

`yaml FILE` is a file to write, `sh` commands to run in the folder, `sh terminal` one that needs a terminal,
and the `text` after them what is printed (or stands on the screen), `...` for lines left out.
"""

from __future__ import annotations

import re
import shlex
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from engine.flow.computed.names import COMPUTED
from engine.flow.schema import (
    CautionPart,
    FindingPart,
    Head,
    ReadingPart,
    RulePart,
    SetPart,
    SignPart,
    StepPart,
    UsePart,
    WatchPart,
)
from engine.physics.quantity import Kind
from tests.flows.walking import FLOWS
from tests.terminal import Terminal
from tests.tui.commands.run import LOADSTEP, environment, loadstep, loadstep_cold

README = FLOWS / "README.md"
_BLOCK = re.compile(r"^```(?P<label>[^\n]*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Block:
    """A fenced block: `kind` is yaml, sh or text, `what` the file it is, or where it runs."""

    kind: str
    what: str
    body: str


def blocks() -> Iterator[Block]:
    for found in _BLOCK.finditer(README.read_text(encoding="utf-8")):
        kind, _, what = found["label"].partition(" ")
        yield Block(kind, what, found["body"])


def test_from_zero_to_a_flow_linted_tried_and_drawn(tmp_path: Path) -> None:
    printed = ""
    for block in blocks():
        if block.kind == "yaml":
            write(tmp_path / block.what, block.body)
        elif block.kind == "sh":
            printed = on_screen(tmp_path, block.body) if block.what else run(tmp_path, block.body)
        else:
            assert block.kind == "text", block
            assert is_in_order(block.body, printed), printed
    written = {str(path.relative_to(tmp_path)) for path in (tmp_path / "flows").rglob("*.yaml")}
    assert written >= {"flows/weak_air.yaml", "flows/parts/house.yaml", "flows/examples/weak_air.yaml"}


def test_every_block_is_one_that_is_run() -> None:
    assert {block.kind for block in blocks()} == {"yaml", "sh", "text"}
    assert all(block.what for block in blocks() if block.kind == "yaml")
    commands = {
        line.split()[1] for block in blocks() if block.kind == "sh" for line in block.body.splitlines()
    }
    assert commands == {"new", "lint", "check", "draw", "try"}


def test_what_the_flows_of_the_page_come_to_is_shown_by_its_walks(tmp_path: Path) -> None:
    """A walk that no longer says so is told: the page's own check would fail on a changed finding."""
    for block in blocks():
        if block.kind == "yaml":
            write(tmp_path / block.what, block.body.replace("finding: coil-iced", "finding: blower-weak"))
    done = command(tmp_path, ["check", "flows/examples"])
    assert done.returncode == 1
    assert "coil-iced" in done.stdout + done.stderr


PARTS = (
    Head,
    UsePart,
    ReadingPart,
    SetPart,
    CautionPart,
    WatchPart,
    StepPart,
    RulePart,
    SignPart,
    FindingPart,
)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_the_table_has_every_key(part: type) -> None:
    page = README.read_text(encoding="utf-8")
    keys = {field.alias or name for name, field in part.model_fields.items()}  # type: ignore[attr-defined]
    told = {word for code in re.findall(r"`([^`]+)`", page) for word in re.findall(r"[a-z_]+", code)}
    assert sorted(keys - told) == []


def test_the_page_has_every_computed_name_and_quantity() -> None:
    page = README.read_text(encoding="utf-8")
    assert [name for name in COMPUTED if f"`{name}`" not in page] == []
    assert [kind for kind in Kind if f"`{kind}`" not in page] == []


def test_help_prints_the_page(tmp_path: Path) -> None:
    done = loadstep_cold(tmp_path, "help", "flow-language")
    assert (done.returncode, done.stdout) == (0, README.read_text(encoding="utf-8"))
    assert "flow-language" in loadstep(tmp_path, "help").stdout
    wrong = loadstep(tmp_path, "help", "flow-lang")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "did you mean 'flow-language'?" in wrong.stderr


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def run(folder: Path, lines: str) -> str:
    """What the last of the commands prints. All but one that shows a mistake end well."""
    printed = ""
    for line in lines.splitlines():
        done = command(folder, shlex.split(line)[1:])
        assert done.returncode == (1 if "slip" in line else 0), done.stdout + done.stderr
        printed = done.stdout + done.stderr
    return printed


def command(folder: Path, words: list[str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*LOADSTEP, *words],
        cwd=folder,
        env=environment(folder / "home", PYTHONPATH=str(FLOWS.parent)),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )


def on_screen(folder: Path, line: str) -> str:
    """What stands on the screen once the first step is shown."""
    words = shlex.split(line)[1:]
    words = [str(folder / word) if word.startswith("flows/") else word for word in words]
    with Terminal(
        [*LOADSTEP, *words], environment(folder / "home", PYTHONPATH=str(FLOWS.parent))
    ) as terminal:
        terminal.until(lambda text: "Cabin filter" in text)
        shown = terminal.text
        terminal.send("\x11")  # Ctrl+Q
        assert terminal.end() == 0
    return shown


def is_in_order(expected: str, printed: str) -> bool:
    """Every line of `expected` stands in `printed`, in order; others between two only where it has `...`."""
    have = [line.rstrip() for line in printed.splitlines()]
    at, skips = 0, False
    for line in expected.splitlines():
        if line.strip() == "...":
            skips = True
            continue
        found = next((i for i in range(at, len(have)) if line.strip() in have[i]), None)
        if found is None or (found > at and not skips and at > 0):
            return False
        at, skips = found + 1, False
    return True
