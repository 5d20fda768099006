"""A scripted walk in its own process: answers and keys against a bare commit, and the memory at its end."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import flows
from tests.bench.measure import Line, p99
from tests.tui.commands.run import environment

FILE = Path(flows.__file__).parent / "examples" / "commanded_but_weak.yaml"
COMMITS = 300


def scripted_walk() -> Iterator[Line]:
    with tempfile.TemporaryDirectory() as home:
        done = subprocess.run(
            [sys.executable, "-m", "tests.bench.walk", str(FILE)],
            env=environment(Path(home)),
            stdout=subprocess.PIPE,
            encoding="utf-8",
            check=True,
        )
        commit = p99(list(_commits(Path(home)))) * 1e3
    told = json.loads(done.stdout)
    answers, keys = told["answers"], told["keys"]
    against = "a bare FULL commit"
    yield Line(f"answer to next step, p99 of {len(answers)}", p99(answers) * 1e3, "ms", commit, against, 50)
    beside = p99(told["beside"]) * 1e3
    yield Line("the same until board and trail are drawn too, p99", beside, "ms", commit, against)
    yield Line(f"key press, p99 of {len(keys)}", p99(keys) * 1e3, "ms", commit, against, 50)
    yield Line(f"memory after a walk of {told['events']} events", told["memory"], "MiB", limit=80)


def _commits(folder: Path) -> Iterator[float]:
    """Seconds of single inserts, each committed as the store commits its events."""
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE events (number INTEGER PRIMARY KEY, body TEXT)")
    for number in range(COMMITS):
        begun = time.perf_counter()
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO events VALUES (?, ?)", (number, "x" * 200))
        connection.execute("COMMIT")
        yield time.perf_counter() - begun
    connection.close()
