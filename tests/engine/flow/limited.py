"""Running a check on a hostile file in a process that is ended long before it could hurt the machine."""

from __future__ import annotations

import resource
import subprocess
import sys
from functools import partial
from pathlib import Path

from tests.pace import Paced

TRIES = 3
"""A machine that changes its speed in the middle of a run makes one try dear, not three in a row."""


def run_limited(
    check: str, path: Path, *, enough: float, wait: float, processor: int
) -> tuple[subprocess.CompletedProcess[str], float]:
    """What `check` (Python, given the path) printed, and what it cost in paces: the first under `enough`.

    The cost is processor time of the child, whatever else this machine is doing; `wait` are seconds on the
    clock, `processor` those of the kernel's limit. Memory is limited to 1 GiB.
    """
    for _ in range(TRIES):
        with Paced(_seconds_of_children) as cost:
            result = subprocess.run(
                [sys.executable, "-c", check, str(path)],
                capture_output=True,
                text=True,
                timeout=wait,
                preexec_fn=partial(_limit, processor),
            )
        if cost.paces < enough:
            break
    return result, cost.paces


def _seconds_of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _limit(processor: int) -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (processor, processor))
    resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
