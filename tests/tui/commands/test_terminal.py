"""The screen on a real terminal: how it comes up, and every way it can end."""

import os
import signal
import sys
from pathlib import Path

import pytest

from engine.flow.index import titles
from engine.job.store import Store
from tests.terminal import Terminal
from tests.tui.commands.run import LOADSTEP, environment

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs pseudo-terminals")

TITLE = titles()[0].title
NORMAL_SCREEN, CURSOR = b"\x1b[?1049l", b"\x1b[?25h"  # xterm: leave the alternate screen, show the cursor


def _start(home: Path, *words: str) -> Terminal:
    terminal = Terminal([*LOADSTEP, *words], environment(home))
    terminal.until(lambda shown: TITLE in shown)
    return terminal


def test_it_opens_on_the_flows_and_quits_with_0(tmp_path: Path) -> None:
    with _start(tmp_path) as terminal:
        terminal.send("\x11")  # Ctrl+Q
        assert terminal.end() == 0


def test_walk_begins_the_main_flow_at_once(tmp_path: Path) -> None:
    with _start(tmp_path, "walk") as terminal:
        terminal.until(lambda shown: "job 1" in shown)
        terminal.send("\x11")
        assert terminal.end() == 0
    with Store.open(tmp_path) as store:
        assert [job.flow for job in store.jobs()] == ["stroke_by_load"]


def test_walk_refuses_a_flow_that_is_not_there_before_it_draws(tmp_path: Path) -> None:
    with Terminal([*LOADSTEP, "walk", "stroke_by_laod"], environment(tmp_path)) as terminal:
        assert terminal.end() == 2
        assert "did you mean 'stroke_by_load'" in " ".join(terminal.text.split())


def test_a_dumb_terminal_is_told(tmp_path: Path) -> None:
    told = environment(tmp_path)
    with Terminal(["env", "TERM=dumb", *LOADSTEP], told) as terminal:
        assert terminal.end() == 2
        assert "TERM=dumb" in terminal.text


@pytest.mark.parametrize("sent", [signal.SIGTERM, signal.SIGINT])
def test_a_signal_ends_it_and_gives_the_terminal_back(tmp_path: Path, sent: signal.Signals) -> None:
    with _start(tmp_path, "walk") as terminal:
        terminal.until(lambda shown: "job 1" in shown)
        os.kill(terminal.pid, sent)
        assert terminal.end() == 128 + sent
        left = terminal.received.rpartition(NORMAL_SCREEN)
        assert left[1], "the screen that was there before is back"
        assert CURSOR in left[2] + left[0][-200:]
    with Store.open(tmp_path) as store:
        assert [job.id for job in store.jobs()] == [1]


@pytest.mark.parametrize("words", [[], ["walk"]])
def test_a_closed_window_ends_it_and_loses_nothing(tmp_path: Path, words: list[str]) -> None:
    with _start(tmp_path, *words) as terminal:
        if words:
            terminal.until(lambda shown: "job 1" in shown)
        assert terminal.hang_up() != 0
    with Store.open(tmp_path) as store:
        assert [job.id for job in store.jobs()] == ([1] if words else [])
        assert not [notice for notice in store.notices if "damaged" in notice]


def test_our_own_mistake_on_the_screen_is_reported_with_the_way_back(tmp_path: Path) -> None:
    program = (
        "import sys; from tui.commands.main import main; from tui.screens.walk import WalkScreen\n"
        "def broken(self):\n"
        "    plate = 'customer text'\n"
        "    raise ZeroDivisionError(plate)\n"
        "WalkScreen.action_panes = broken\n"
        "sys.exit(main(['walk']))"
    )
    with Terminal([sys.executable, "-P", "-c", program], environment(tmp_path)) as terminal:
        terminal.until(lambda shown: "job 1" in shown)
        terminal.send("\x1bOS")  # F4
        assert terminal.end() == 70
        told = " ".join(terminal.text.split())
    assert "open job 1" in told
    assert "customer text" not in told
    (report,) = (tmp_path / "crashes").glob("crash-*.txt")
    text = report.read_text(encoding="utf-8")
    assert "builtins.ZeroDivisionError" in text
    assert "flow: stroke_by_load" in text
    assert "last events: started" in text
    assert "customer text" not in text
