"""`loadstep trial` as a person or a screen uses it, over a made-up yard of vehicles."""

from __future__ import annotations

import json
import os
import pty
import re
import shlex
import signal
import subprocess
import sys
import time
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from engine.vehicle.trial.plain import json_schema
from tests.engine.vehicle.trial.yard import FLOW, yard_flow
from tests.tui.commands.nursery import born
from tests.tui.commands.run import environment, loadstep_cold

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def flow(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("flow") / "yard.yaml"
    path.write_text(FLOW, encoding="utf-8")
    return str(path)


def _words(seconds: float, *words: str) -> list[str]:
    return [sys.executable, "-m", "tests.tui.commands.yard_trial", str(seconds), *words]


def _trial(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        _words(0, *words),
        cwd=ROOT,
        env=environment(home, COLUMNS="100"),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=100,
        check=False,
    )


def _alone(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A trial in one process, for what is read of its figures.

    They are the same whatever the processes, which a test holds; starting two costs more than these vehicles.
    """
    entry = "tests.tui.commands.yard_trial:main"
    return born(entry, ["0", *words, "--jobs", "1"], environment(home, COLUMNS="100"))


def _told(done: subprocess.CompletedProcess[str]) -> dict[str, Any]:
    (line,) = done.stdout.splitlines()
    told: dict[str, Any] = json.loads(line)
    jsonschema.validate(told, json_schema())
    return told


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema())


def test_one_object_the_same_whatever_the_processes(tmp_path: Path, flow: str) -> None:
    words = (flow, "--vehicles", "60", "--json", "--skipped-readings", "0.1")
    alone = _trial(tmp_path, *words, "--jobs", "1")
    together = _trial(tmp_path, *words, "--jobs", "2")
    assert (alone.returncode, alone.stderr) == (0, "")
    assert alone.stdout == together.stdout
    told = _told(alone)
    assert told["flow_hash"] == yard_flow().hash
    assert told["stopped"] is False
    assert [one["fleet"] for one in told["fleets"]] == ["yard", "other"]
    for one in told["fleets"]:
        assert one["overall"]["vehicles"] == 60
        assert one["healthy"]["vehicles"] == 30
        outcomes = ("correct", "misdiagnosed", "missed", "false_alarm", "no_answer")
        assert sum(one["overall"][outcome] for outcome in outcomes) == 60
        assert sum(cell["vehicles"] for cell in one["confusion"]) == 60


def test_in_words(tmp_path: Path, flow: str) -> None:
    done = _alone(tmp_path, flow, "--vehicles", "80", "--fleet", "yard", "--severity", "0.2..1")
    assert (done.returncode, done.stderr) == (0, "")
    for told in (
        "Trial of What ails the pump? (yard, revision 2",
        "Fleet yard",
        "correct lies with 95 % confidence within",
        "by severity",
        "there or not",
        "worn: worn",
        "Cost of a diagnosis, on average",
        "Brier score",
        "Steps never reached\n    nothing-there",
        "measure: baseline.high_side <= 50 psi",
        "Worst cases",
    ):
        assert told in done.stdout
    assert "Fleet other" not in done.stdout


def test_a_worst_case_is_brought_back_by_its_command(tmp_path: Path, flow: str) -> None:
    told = _told(
        _alone(
            tmp_path,
            flow,
            "--vehicles",
            "80",
            "--ambient",
            "59..77degF",
            "--skipped-readings",
            "0.3",
            "--json",
        )
    )
    worst = told["fleets"][1]["worst"][0]
    program, command, *words = shlex.split(worst["command"])
    assert (program, command) == ("loadstep", "trial")
    shown = _alone(tmp_path, *words)
    assert (shown.returncode, shown.stderr) == (0, "")
    assert worst["command"] in shown.stdout
    assert f"Vehicle {worst['index']} of fleet other, seed 1" in shown.stdout
    assert f"Outcome: {worst['outcome'].replace('_', ' ')}" in shown.stdout
    assert f"hash {yard_flow().hash}" in shown.stdout
    assert "ambient: 288 K" in shown.stdout  # 59 degF is 15 degC
    assert re.search(r"Hub turns \(turns\): (yes|no|cannot be measured)", shown.stdout)


def test_another_flow_than_the_command_s_is_told(tmp_path: Path, flow: str) -> None:
    done = _alone(tmp_path, flow, "--show", "3", "--flow-hash", "beef")
    assert done.returncode == 0
    assert "this is not the flow with hash beef" in done.stderr


def test_the_linked_job_is_shown(tmp_path: Path, flow: str) -> None:
    words = (flow, "--pairs", "--fault", "snapped", "--fleet", "yard", "--show", "0", "--severity", "0.9..1")
    done = _alone(tmp_path, *words)
    assert "truth: " in done.stdout
    assert "snapped" in done.stdout
    assert "The linked job, after that repair; left is" in done.stdout


def test_pairs(tmp_path: Path, flow: str) -> None:
    told = _told(_alone(tmp_path, flow, "--pairs", "--vehicles", "40", "--json"))
    pairs = told["fleets"][0]["pairs"]
    assert pairs["free"] + pairs["stopping"] == 40
    assert pairs["stopper_named"] == pairs["stopping"]  # a shaft that stands is seen at once


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: set[str] = set()
        self.links: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        self.links += [value or "" for name, value in attrs if name in ("href", "src")]
        if tag != "meta":
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open[-1] in ("br",):
            self.open.pop()
        assert self.open.pop() == tag


def test_the_page_holds_all_it_needs(tmp_path: Path, flow: str) -> None:
    hostile = tmp_path / "hostile.yaml"
    hostile.write_text(
        FLOW.replace("flow: yard", "flow: hostile").replace(
            "What ails the pump?", "<script>alert(1)</script>"
        ),
        encoding="utf-8",
    )
    page = tmp_path / "trial.html"
    done = _trial(tmp_path, str(hostile), "--vehicles", "60", "--out", str(page))
    assert done.returncode == 0
    assert str(page) in done.stderr
    text = page.read_text(encoding="utf-8")
    tags = _Tags()
    tags.feed(text)
    assert tags.open == []
    assert {"svg", "rect", "circle", "table"} <= tags.seen
    assert "script" not in tags.seen
    assert tags.links == []
    assert "&lt;script&gt;" in text
    assert "Confusion matrix" in text
    assert "default-src 'none'" in text


def test_weigh(tmp_path: Path, flow: str) -> None:
    done = _trial(tmp_path, flow, "--weigh", "--vehicles", "200", "--fleet", "yard")
    assert (done.returncode, done.stderr) == (0, "")
    assert "the flow as it is: correct" in done.stdout
    assert "the flow with the proposed odds: correct" in done.stdout
    assert "training seed 1000001" in done.stdout
    assert re.search(r"^low-high: \{worn: \[[\d.]+, [\d.]+\]", done.stdout, re.MULTILINE)
    assert "of the others" in done.stdout
    told = _told(_alone(tmp_path, flow, "--weigh", "--vehicles", "200", "--fleet", "yard", "--json"))
    assert told["weights"]["training_seed"] == 1_000_001
    assert len(told["weights"]["judged"]) == 1


def test_weigh_a_second_finding(tmp_path: Path, flow: str) -> None:
    """Beside worn, dirty is right for two pairs: that with dirt, and that with ice, whose cause it names."""
    words = (flow, "--weigh", "--pairs", "--propose", "--vehicles", "200", "--fleet", "yard")
    done = _trial(tmp_path, *words)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("both named") == 2
    assert re.search(r"fleet yard, seed 1000001\). Goes with `limits: \{also: [\d.]+\}`", done.stdout)
    assert re.search(r"^beside:.*\n  worn: \{dirty: [\d.]+\}", done.stdout, re.MULTILINE)
    told = _told(_alone(tmp_path, *words, "--json"))
    assert told["weights"]["also"] >= 1
    assert told["weights"]["beside_first"]["worn"]["dirty"] > 1
    before, after = told["fleets"][0]["pairs"], told["weights"]["judged"][0]["pairs"]
    assert after["first"] == before["first"]  # odds of a second finding leave the first alone


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--vehicles", "0"], "--vehicles: '0' is no whole number from 1 to 1000000"),
        (["--seed", "1000000"], "--seed: '1000000' is no whole number from 0 to 999999"),
        (["--fault", "wron"], "--fault: there is no 'wron' among the simulated ones; did you mean 'worn'?"),
        (["--fleet", "yrad"], "--fleet: there is no 'yrad'"),
        (["--severity", "0.4"], "--severity: write two values with .. between, for instance 0.4..1."),
        (["--severity", "0.4..2"], "--severity: '2' is no number from 0 to 1."),
        (["--severity", "1..0.4"], "--severity: the lower value comes first."),
        (["--severity", "nan..1"], "--severity: 'nan' is no number from 0 to 1."),
        (["--ambient", "15..x"], "--ambient: "),
        (["--ambient", "-400..20degC"], "--ambient: the simulated vehicles stand in air of 5 to 48 degC"),
        (["--ambient", "30..20"], "--ambient: the simulated vehicles stand in air of 5 to 48 degC"),
        (
            ["--refrigerant", "R-12"],
            "--refrigerant: no simulated vehicle has 'R-12'; use R-134a or R-1234yf.",
        ),
        (["--skipped-readings", "10"], "--skipped-readings: '10' is no number from 0 to 1."),
        (["--jobs", "0"], "--jobs: '0' is no whole number"),
        (["--out", "page.md"], "--out: the page is HTML"),
        (["--out", "."], "--out: "),
        (["--show", "x"], "--show: 'x' is no whole number"),
        (["--propose"], "--propose goes with --weigh."),
        (
            ["--weigh", "--fault", "snapped", "--vehicles", "9"],
            "--weigh: The vehicles that came to a ranking",
        ),
    ],
)
def test_refused(tmp_path: Path, flow: str, words: list[str], told: str) -> None:
    run = _trial if "--jobs" in words else _alone
    done = run(tmp_path, flow, *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert told in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_no_such_flow(tmp_path: Path) -> None:
    done = _alone(tmp_path, "stroke_by_laod")
    assert done.returncode == 2
    assert "stroke_by_load" in done.stderr


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_ctrl_c_prints_what_is_done(tmp_path: Path, flow: str, jobs: str) -> None:
    """As a terminal does it: every process of the group gets the signal."""
    words = _words(0.02, flow, "--vehicles", "100000", "--jobs", jobs, "--json")
    child = subprocess.Popen(
        words,
        cwd=ROOT,
        env=environment(tmp_path),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        start_new_session=True,
    )
    time.sleep(6)
    os.killpg(child.pid, signal.SIGINT)
    out, err = child.communicate(timeout=30)
    assert child.returncode == 130
    assert err == "loadstep: stopped; the figures are of the vehicles that were done.\n"
    told = json.loads(out)
    jsonschema.validate(told, json_schema())
    assert told["stopped"] is True
    assert 0 < told["fleets"][0]["overall"]["vehicles"] < 100000
    assert len(told["fleets"]) == 1


def _children(pid: int) -> list[int]:
    text = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii")
    return [int(word) for word in text.split()]


def _is_alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False


@pytest.mark.skipif(not Path(f"/proc/self/task/{os.getpid()}/children").exists(), reason="no /proc here")
def test_no_child_outlives_a_killed_parent(tmp_path: Path, flow: str) -> None:
    parent = subprocess.Popen(
        _words(0.02, flow, "--vehicles", "100000", "--jobs", "2", "--json"),
        cwd=ROOT,
        env=environment(tmp_path),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    deadline = time.monotonic() + 20
    while (
        len(_children(parent.pid)) < 3 and time.monotonic() < deadline
    ):  # two, and multiprocessing's tracker
        time.sleep(0.1)
    children = _children(parent.pid)
    assert len(children) >= 2
    time.sleep(2)
    parent.kill()
    parent.wait()
    deadline = time.monotonic() + 20
    while any(map(_is_alive, children)) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert not any(map(_is_alive, children))


def test_a_terminal_gets_a_bar_with_the_time_left(tmp_path: Path, flow: str) -> None:
    ours, theirs = pty.openpty()
    child = subprocess.Popen(
        _words(0.05, flow, "--vehicles", "40", "--jobs", "1", "--fleet", "yard", "--json"),
        cwd=ROOT,
        env=environment(tmp_path, TERM="xterm", COLUMNS="80"),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=theirs,
        encoding="utf-8",
    )
    os.close(theirs)
    seen = b""
    while True:
        try:
            part = os.read(ours, 4096)
        except OSError:  # how Linux tells that the other end is closed
            break
        if not part:
            break
        seen += part
    out, _ = child.communicate(timeout=30)
    os.close(ours)
    assert json.loads(out)["fleets"][0]["overall"]["vehicles"] == 40
    text = seen.decode()
    assert "/40" in text
    assert re.search(r"\d\d:\d\d", text)
    assert "left" in text


OPTIONS = (
    "--vehicles --seed --fault --severity --ambient --refrigerant --pairs --skipped-readings --jobs "
    "--json --out --fleet --weigh --show"
)


def test_the_shipped_command_knows_it(tmp_path: Path) -> None:
    done = loadstep_cold(tmp_path, "trial", "--help")
    assert done.returncode == 0
    assert [option for option in OPTIONS.split() if option not in done.stdout] == []
