"""Lint of long flows against lint of the main flow, all as whole processes: `python -m tests.bench.lint`."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import median

from tests.bench.measure import Line
from tests.engine.flow.long import long_files
from tests.tui.commands.run import LOADSTEP, environment

ROUNDS = 5
LONG, LONGEST = 2_000, 10_000


def lint_of_long_flows() -> Iterator[Line]:
    yield from of_long_flows("lint", ["lint", "--strict"])


def of_long_flows(what: str, words: Sequence[str]) -> Iterator[Line]:
    """What `loadstep WORDS FLOW` costs for long flows against the main one."""
    with tempfile.TemporaryDirectory() as home:
        files = {"main": "stroke_by_load"} | {str(n): _written(Path(home), n) for n in (LONG, LONGEST)}
        spent: dict[str, list[float]] = {name: [] for name in files}
        for _ in range(ROUNDS):
            for name, file in files.items():
                spent[name].append(_seconds([*words, file], home))
    main, long, longest = (median(times) * 1e3 for times in spent.values())
    yield Line(f"{what} of {LONG} steps", long, "ms", main, f"{what} of the main flow", 15, True)
    share = LONGEST / LONG
    yield Line(
        f"{what} of {LONGEST} steps",
        longest,
        "ms",
        long * share,
        f"{share:g} times that of {LONG}",
        1.1,
        True,
    )


def _written(folder: Path, steps: int) -> str:
    place = folder / str(steps)
    place.mkdir()
    for name, text in long_files(steps).items():
        (place / name).write_text(text, encoding="utf-8")
    return str(place / "long.yaml")


def _seconds(words: Sequence[str], home: str) -> float:
    told = environment(Path(home))
    del told["PYTHONDONTWRITEBYTECODE"]
    begun = time.perf_counter()
    subprocess.run([*LOADSTEP, *words], env=told, check=True, capture_output=True)
    return time.perf_counter() - begun


def main() -> int:
    kept = True
    for line in lint_of_long_flows():
        print(line, flush=True)
        kept = kept and line.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
