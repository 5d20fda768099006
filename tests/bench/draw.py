"""Drawing long flows as text against drawing the main flow: `python -m tests.bench.draw`.

Once as whole processes, as a person waits for them, and once the drawing alone, in processor time.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator

from engine.flow.draw.layout import laid_out
from engine.flow.draw.text import as_text, text_lines
from engine.flow.model import Flow
from tests.bench.lint import LONG, LONGEST, of_long_flows
from tests.bench.measure import Line
from tests.engine.flow.draw.made import main_flow, trunk_and_branches

ROUNDS = 9


def drawing_of_long_flows() -> Iterator[Line]:
    yield from of_long_flows("drawing", ["draw"])
    flows = [main_flow(), trunk_and_branches(LONG), trunk_and_branches(LONGEST)]
    main, long, longest = map(_milliseconds, flows)
    yield Line(f"drawing alone of {LONG} steps", long, "ms", main, "that of the main flow", 15, True)
    share = LONGEST / LONG
    against = f"{share:g} times that of {LONG}"
    yield Line(f"drawing alone of {LONGEST} steps", longest, "ms", long * share, against, 1.25, True)


def _milliseconds(flow: Flow) -> float:
    """The least of some rounds: what else the machine does only ever adds."""
    return min(_once(flow) for _ in range(ROUNDS)) * 1e3


def _once(flow: Flow) -> float:
    begun = time.process_time()
    as_text(text_lines(laid_out(flow)))
    return time.process_time() - begun


def main() -> int:
    kept = True
    for line in drawing_of_long_flows():
        print(line, flush=True)
        kept = kept and line.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
