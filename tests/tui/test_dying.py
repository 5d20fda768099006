"""A program that is killed or has a bug loses no answer, no half-typed text, and shows no customer's data."""

from __future__ import annotations

import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from engine.job import events as kinds
from engine.job.store import Store
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


class Terminal:
    """The program on a terminal of its own."""

    def __init__(self, home: Path, patch: str = "") -> None:
        self._leader, follower = pty.openpty()
        self.seen = b""
        self.program = subprocess.Popen(
            [sys.executable, "-c", RUN.format(patch=patch), SMALL],
            stdin=follower,
            stdout=follower,
            stderr=follower,
            cwd=ROOT,
            env={
                **os.environ,
                "TERM": "xterm-256color",
                "PYTHONPATH": str(ROOT),
                "LOADSTEP_HOME": str(home),
                "COLUMNS": "80",
                "LINES": "24",
            },
            start_new_session=True,
        )
        os.close(follower)
        os.set_blocking(self._leader, False)

    def type(self, text: bytes) -> None:
        os.write(self._leader, text)

    def wait_for(self, text: bytes, seconds: float = 20.0) -> None:
        """Read until the terminal shows `text`."""
        until = time.monotonic() + seconds
        while text not in self.seen:
            assert time.monotonic() < until, self.seen[-2000:]
            self._read()

    def end(self) -> int:
        """Read on until the program has ended; its exit code."""
        until = time.monotonic() + 20
        while self.program.poll() is None:
            assert time.monotonic() < until, self.seen[-2000:]
            self._read()
        self._read()
        os.close(self._leader)
        return self.program.returncode

    def close(self) -> None:
        """As when its window is closed."""
        os.close(self._leader)

    def _read(self) -> None:
        try:
            self.seen += os.read(self._leader, 65536)
        except BlockingIOError:
            time.sleep(0.02)
        except OSError:  # the other end is gone
            pass


def half_way(terminal: Terminal) -> None:
    """One answer given, another half typed for longer than half a second."""
    terminal.wait_for(b"Electric motor")
    terminal.type(b"2\r")
    terminal.wait_for(b"Sealant")
    terminal.type(b"2, ")
    time.sleep(1.0)


def kept(home: Path) -> list[tuple[str, str, str]]:
    with Store.open(home) as store:
        return [(event.kind, event.item, event.text) for event in store.events(1)[1:]]


HALF_WAY = [(kinds.ANSWERED, "drive", "2"), (kinds.DRAFT, "contamination", "2, ")]


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGHUP, signal.SIGTERM])
def test_answers_and_half_typed_text_survive_a_killed_program(tmp_path: Path, number: int) -> None:
    terminal = Terminal(tmp_path)
    half_way(terminal)
    terminal.program.send_signal(number)
    assert terminal.end() != 0
    assert kept(tmp_path) == HALF_WAY


def test_a_terminal_that_is_closed_ends_the_program(tmp_path: Path) -> None:
    """Also one that is not its controlling terminal, of which the system tells it nothing."""
    terminal = Terminal(tmp_path)
    half_way(terminal)
    terminal.close()
    assert terminal.program.wait(20) == -signal.SIGHUP
    assert kept(tmp_path) == HALF_WAY


def test_a_bug_ends_with_a_report_and_without_what_was_typed(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path, BUG)
    half_way(terminal)
    terminal.type(b"SECRET")
    time.sleep(1.0)
    terminal.type(b"\x1b[17~")  # F6
    assert terminal.end() == 70
    left = b"\x1b[?1049l"  # xterm: back from the alternate screen
    assert terminal.seen.count(left) == 1
    told = terminal.seen.partition(left)[2].decode()
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
