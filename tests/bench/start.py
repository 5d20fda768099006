"""First paint of `loadstep` on a terminal against an empty Textual app, and lint: both as whole processes."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from engine.flow.index import titles
from tests.bench.measure import Line, in_turn
from tests.terminal import Terminal
from tests.tui.commands.run import LOADSTEP, environment

ROUNDS = 9

EMPTY_APP = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        yield Static("painted")
Empty().run()
"""

LIBRARIES = "import yaml; from pydantic import BaseModel"


def first_paint() -> Line:
    title = titles()[0].title
    with tempfile.TemporaryDirectory() as home:
        ours, empty = in_turn(
            lambda: _paint(LOADSTEP, title, home),
            lambda: _paint([sys.executable, "-P", "-c", EMPTY_APP], "painted", home),
            ROUNDS,
        )
    return Line("first paint", ours * 1e3, "ms", empty * 1e3, "an empty Textual app", 1.6, True)


def lint() -> Line:
    with tempfile.TemporaryDirectory() as home:
        ours, libraries = in_turn(
            lambda: _whole([*LOADSTEP, "lint", "stroke_by_load"], home),
            lambda: _whole([sys.executable, "-P", "-c", LIBRARIES], home),
            ROUNDS,
        )
    return Line(
        "lint of the main flow", ours * 1e3, "ms", libraries * 1e3, "importing yaml and pydantic", 3, True
    )


def _paint(command: Sequence[str], text: str, home: str) -> float:
    with Terminal(command, _environment(home)) as terminal:
        return terminal.until(lambda shown: text in shown)


def _whole(command: Sequence[str], home: str) -> float:
    begun = time.perf_counter()
    subprocess.run(command, env=_environment(home), check=True, capture_output=True)
    return time.perf_counter() - begun


def _environment(home: str) -> dict[str, str]:
    told = environment(Path(home))
    del told["PYTHONDONTWRITEBYTECODE"]  # a program that is in use has its bytecode
    return told
