"""The `loadstep` command as a whole: usage, exit codes, and endings that are nobody's plan."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.tui.commands.run import LOADSTEP, environment
from tests.tui.commands.run import loadstep_cold as loadstep


def test_version(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "--version")
    assert done.returncode == 0
    assert re.fullmatch(r"loadstep \d+\.\d+\.\d+\n", done.stdout)


def test_help_names_every_command_and_the_exit_codes(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "--help")
    assert done.returncode == 0
    for command in ("walk", "replay", "lint", "flows", "jobs", "sheet", "saturation"):
        assert f"  {command}" in done.stdout
    assert "70 our bug" in " ".join(done.stdout.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["repaly"], "Did you mean `replay`?"),
        (["zzz"], "Commands: walk, replay"),
        (["--frobnicate"], "--frobnicate"),
        (["lint"], "FILE"),
        (["replay"], "--demo"),
        (["sheet"], "JOB"),
        (["sheet", "twelve"], "twelve"),
        (["sheet", "-1"], "-1"),
        (["sheet", "99999999999999999999999999"], "no job"),
        (["\x1b[31m"], "there is no command"),
    ],
)
def test_bad_usage_is_one_sentence_and_code_2(tmp_path: Path, words: list[str], said: str) -> None:
    done = loadstep(tmp_path, *words)
    assert done.returncode == 2
    assert said in done.stderr
    assert done.stderr.count("\n") == 1
    assert "\x1b" not in done.stderr


@pytest.mark.parametrize("words", [[], ["walk"], ["walk", "stroke_by_load"]])
def test_without_a_terminal_it_says_what_works_without_one(tmp_path: Path, words: list[str]) -> None:
    done = loadstep(tmp_path, *words)
    assert done.returncode == 2
    assert "loadstep replay --demo" in done.stderr
    assert not list(tmp_path.iterdir()), "nothing is made where nothing can be done"


def test_a_closed_pipe_is_quiet(tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*LOADSTEP, "flows"], env=environment(tmp_path), stdout=writing, stderr=subprocess.PIPE, check=False
    )
    os.close(writing)
    assert done.stderr == b""
    assert done.returncode == 141  # 128 + SIGPIPE, as a shell reports it


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_is_told(tmp_path: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*LOADSTEP, "flows"], env=environment(tmp_path), stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert done.returncode == 2
    assert done.stderr.count(b"\n") == 1
    assert b"could not be written" in done.stderr


def test_closed_streams_do_not_matter(tmp_path: Path) -> None:
    command = " ".join(f"'{word}'" for word in [*LOADSTEP, "flows"])
    done = subprocess.run(
        ["sh", "-c", f"{command} <&- >&- 2>&-"], env=environment(tmp_path), timeout=60, check=False
    )
    assert done.returncode == 0


def test_a_terminal_that_knows_only_ascii_gets_escapes(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "saturation", "Kältemittel", "40 psi", PYTHONIOENCODING="ascii")
    assert done.returncode == 2
    assert r"K\xe4ltemittel" in done.stderr


def test_ctrl_c_ends_with_130(tmp_path: Path) -> None:
    program = (
        "import sys, time; from tui.commands import flows; from tui.commands.main import main\n"
        "flows.run = lambda args: (print('here', flush=True), time.sleep(30))\n"
        "sys.exit(main(['flows']))"
    )
    process = subprocess.Popen(
        [sys.executable, "-P", "-c", program],
        env=environment(tmp_path),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"here\n"
    time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=30)
    assert (process.returncode, told) == (130, b"Stopped.\n")


def test_our_own_mistake_is_reported_without_what_was_typed(tmp_path: Path) -> None:
    program = (
        "import sys; from tui.commands import flows; from tui.commands.main import main\n"
        "def run(args):\n"
        "    raise KeyError('plate ABC 123, customer text')\n"
        "flows.run = run\n"
        "sys.exit(main(['flows']))"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", program],
        env=environment(tmp_path),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 70
    assert "open the job" in done.stderr
    assert "Traceback" not in done.stderr
    (report,) = (tmp_path / "crashes").glob("crash-*.txt")
    assert str(report) in done.stderr
    text = report.read_text(encoding="utf-8")
    assert "builtins.KeyError" in text
    assert "textual: " in text
    assert "python: " in text
    assert "customer text" not in text + done.stderr
