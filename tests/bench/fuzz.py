"""Random input in large numbers: `python -m tests.bench.fuzz [EXAMPLES] [SEED]`, 200,000 if left out.

Prints what each target cost, and the memory of the process; ends with the smallest example that fails, if one
does. Not part of the tests, which try a few of each (`tests/engine/flow/test_fuzz.py`).
"""

from __future__ import annotations

import resource
import sys
import time
from collections import Counter

from hypothesis import HealthCheck, Phase, given, seed, settings

from tests.engine.flow.fuzz_targets import TARGETS, Target

EXAMPLES = 200_000
MEBIBYTES = 500  # of the whole run, hypothesis with its own records included
_ROUND = 5_000  # examples that hypothesis keeps in mind at once


def run(target: Target, examples: int, start: int) -> int:
    """Tries so many examples, in rounds; how many were tried."""
    count = Counter[str]()
    for number, begin in enumerate(range(0, examples, _ROUND)):

        @seed(start + number)
        @settings(
            max_examples=min(_ROUND, examples - begin),
            deadline=None,
            database=None,
            phases=(Phase.generate, Phase.shrink),
            suppress_health_check=list(HealthCheck),
        )
        @given(target.given)
        def examined(value: object) -> None:
            count["tried"] += 1
            target.check(value)

        examined()
    return count["tried"]


def main() -> int:
    examples, start = ([int(word) for word in sys.argv[1:]] + [EXAMPLES, 1][len(sys.argv) - 1 :])[:2]
    total = 0
    for target in TARGETS:
        begun = time.process_time()
        tried = run(target, round(examples * target.share), start)
        total += tried
        spent = time.process_time() - begun
        print(
            f"{target.name}: {tried} examples, {spent:.0f} s, {spent / tried * 1e3:.1f} ms each", flush=True
        )
    mebibytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{total} examples, {mebibytes} MiB")
    return 0 if mebibytes <= MEBIBYTES else 1


if __name__ == "__main__":
    sys.exit(main())
