"""`loadstep try` as it is run: refusals without a screen, and a draft on a real terminal."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from engine.job.store import Store
from tests.engine.job.draft.test_draft import FACTS, SMALL, change
from tests.terminal import Terminal
from tests.tui.commands.run import LOADSTEP, environment, loadstep, loadstep_cold


@pytest.fixture
def flow(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text(SMALL.read_text())
    (tmp_path / "facts.yaml").write_text(FACTS)
    return path


def test_a_good_draft_needs_a_terminal(flow: Path, tmp_path: Path) -> None:
    done = loadstep(tmp_path / "home", "try", str(flow))
    assert done.returncode == 2
    assert "the screen needs a terminal" in done.stderr


def test_a_broken_draft_is_told_and_not_opened(flow: Path, tmp_path: Path) -> None:
    change(flow, "next: base", "next: bass")
    done = loadstep_cold(tmp_path / "home", "try", str(flow))
    assert (done.returncode, done.stdout) == (1, "")
    line = flow.read_text().partition("next: bass")[0].count("\n") + 1
    assert done.stderr == f"{flow}:{line}:11: there is no step 'bass', did you mean 'base'?\n"


def test_what_is_named_and_is_not_there_is_refused(flow: Path, tmp_path: Path) -> None:
    done = loadstep(tmp_path / "home", "try", str(tmp_path / "smal.yaml"))
    assert done.returncode == 2
    assert "There is no flow file" in done.stderr
    done = loadstep(tmp_path / "home", "try", str(flow), "--from", "rise")
    assert done.returncode == 2
    assert done.stderr == f"loadstep: {flow}: there is no step 'rise' to begin at, did you mean 'raise'?\n"
    done = loadstep(tmp_path / "home", "try", str(flow), "--facts", str(tmp_path / "fact.yaml"))
    assert (done.returncode, done.stderr) == (
        2,
        f"{tmp_path}/fact.yaml: there is no such file, check the path\n",
    )
    change(tmp_path / "facts.yaml", "drive: belt", "drive: rope")
    done = loadstep(tmp_path / "home", "try", str(flow), "--facts", str(tmp_path / "facts.yaml"))
    assert done.returncode == 2
    assert done.stderr.startswith(f"{tmp_path}/facts.yaml:3:10: 'drive': 'rope' is none of its choices")


@pytest.mark.skipif(sys.platform == "win32", reason="needs pseudo-terminals")
def test_on_a_terminal_it_is_read_again_and_no_job_is_kept(flow: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    words = ["try", str(flow), "--watch", "--from", "raise", "--facts", str(tmp_path / "facts.yaml")]
    with Terminal([*LOADSTEP, *words], environment(home)) as terminal:
        terminal.until(lambda shown: "Raise the heat load" in shown and "draft, not kept" in shown)
        change(flow, "Raise the heat load", "Bring the load up")
        terminal.until(lambda shown: "Bring the load up" in shown)
        change(flow, "next: weigh", "next: wei")
        terminal.until(lambda shown: "there is no step 'wei'" in " ".join(shown.split()))
        change(flow, "next: wei\n", "next: weigh\n")
        terminal.until(lambda shown: "Bring the load up" in shown)
        terminal.send("\x1b")
        assert terminal.end() == 0
    with Store.open(home) as store:
        assert store.jobs() == []
