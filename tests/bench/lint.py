"""Lint of long flows against lint of the main flow, all as whole processes: `python -m tests.bench.lint`."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from tests.bench.measure import Line
from tests.engine.flow.long import long_files
from tests.tui.commands.run import LOADSTEP, environment

ROUNDS = 5
LONG, LONGEST = 2_000, 10_000


def lint_of_long_flows() -> Iterator[Line]:
    with tempfile.TemporaryDirectory() as home:
        files = {"main": "stroke_by_load"} | {str(n): _written(Path(home), n) for n in (LONG, LONGEST)}
        spent: dict[str, list[float]] = {name: [] for name in files}
        for _ in range(ROUNDS):
            for name, file in files.items():
                spent[name].append(_seconds(file, home))
    main, long, longest = (median(times) * 1e3 for times in spent.values())
    yield Line(f"lint of {LONG} steps", long, "ms", main, "lint of the main flow", 15, True)
    share = LONGEST / LONG
    yield Line(
        f"lint of {LONGEST} steps", longest, "ms", long * share, f"{share:g} times that of {LONG}", 1.1, True
    )


def _written(folder: Path, steps: int) -> str:
    place = folder / str(steps)
    place.mkdir()
    for name, text in long_files(steps).items():
        (place / name).write_text(text, encoding="utf-8")
    return str(place / "long.yaml")


def _seconds(file: str, home: str) -> float:
    told = environment(Path(home))
    del told["PYTHONDONTWRITEBYTECODE"]
    begun = time.perf_counter()
    subprocess.run([*LOADSTEP, "lint", "--strict", file], env=told, check=True, capture_output=True)
    return time.perf_counter() - begun


def main() -> int:
    kept = True
    for line in lint_of_long_flows():
        print(line, flush=True)
        kept = kept and line.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
