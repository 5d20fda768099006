"""All benchmarks, printed as ratios against a baseline in the same run: `python -m tests.bench`.

Not part of the tests: clocks on shared machines lie. Exit code 1 says that a limit was passed here and now.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator

from tests.bench.answers import scripted_walk
from tests.bench.draw import drawing_of_long_flows
from tests.bench.lint import lint_of_long_flows
from tests.bench.measure import Line
from tests.bench.resume import resume
from tests.bench.start import first_paint, lint
from tests.bench.vehicle import vehicle_speed


def lines() -> Iterator[Line]:
    yield first_paint()
    yield lint()
    yield from lint_of_long_flows()
    yield from drawing_of_long_flows()
    yield resume()
    yield from scripted_walk()
    yield from vehicle_speed()


def main() -> int:
    kept = True
    for line in lines():
        print(line, flush=True)
        kept = kept and line.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
