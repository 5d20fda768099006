"""A program that is killed or has a bug loses no answer, no half-typed text, and shows no customer's data."""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from engine.job import events as kinds
from engine.job.store import Store
from tests.terminal import Terminal
from tests.tui.commands.run import environment
from tests.tui.conftest import SMALL

ROOT = Path(__file__).parents[2]

RUN = """
import sys
from tui.commands.main import main
{patch}
sys.exit(main(["walk", sys.argv[1]]))
"""
BUG = """
from tui.screens.walk import WalkScreen
def action_note(self):
    typed = self.query_one("Input").value
    raise ZeroDivisionError(typed)
WalkScreen.action_note = action_note
"""


def running(home: Path, patch: str = "", controls: bool = True) -> Terminal:
    """The program on a terminal of its own."""
    command = [sys.executable, "-P", "-c", RUN.format(patch=patch), SMALL]
    return Terminal(command, environment(home, PYTHONPATH=str(ROOT)), controls)


def half_way(terminal: Terminal) -> None:
    """One answer given, another half typed for longer than half a second."""
    terminal.until(lambda text: "Electric motor" in text)
    terminal.send("2\r")
    terminal.until(lambda text: "Sealant" in text)
    terminal.send("2, ")
    time.sleep(1.0)


def kept(home: Path) -> list[tuple[str, str, str]]:
    with Store.open(home) as store:
        return [(event.kind, event.item, event.text) for event in store.events(1)[1:]]


HALF_WAY = [(kinds.ANSWERED, "drive", "2"), (kinds.DRAFT, "contamination", "2, ")]


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGHUP, signal.SIGTERM])
def test_answers_and_half_typed_text_survive_a_killed_program(tmp_path: Path, number: int) -> None:
    with running(tmp_path) as terminal:
        half_way(terminal)
        os.kill(terminal.pid, number)
        assert terminal.end() != 0
    assert kept(tmp_path) == HALF_WAY


def test_a_terminal_that_is_closed_ends_the_program(tmp_path: Path) -> None:
    """Also one that is not its controlling terminal, of which the system tells it nothing."""
    with running(tmp_path, controls=False) as terminal:
        half_way(terminal)
        assert terminal.hang_up() == -signal.SIGHUP
    assert kept(tmp_path) == HALF_WAY


def test_a_bug_ends_with_a_report_and_without_what_was_typed(tmp_path: Path) -> None:
    with running(tmp_path, BUG) as terminal:
        half_way(terminal)
        terminal.send("SECRET")
        time.sleep(1.0)
        terminal.send("\x1b[17~")  # F6
        assert terminal.end() == 70
    left = b"\x1b[?1049l"  # xterm: back from the alternate screen
    assert terminal.received.count(left) == 1
    told = terminal.received.partition(left)[2].decode()
    assert "loadstep stopped because of a mistake of its own" in told
    assert "open job 1" in told
    assert "Traceback" not in told
    assert "ZeroDivisionError" not in told
    reports = [path.read_text() for path in tmp_path.rglob("crash-*.txt")]
    assert len(reports) == 1
    assert "ZeroDivisionError" in reports[0]
    assert "SECRET" not in reports[0]
    assert "SECRET" not in told
    assert kept(tmp_path)[0] == HALF_WAY[0]
