"""How many workers share out the tests, which files they take first, and that children hear Ctrl-C."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

FIRST = (
    "tui/commands/test_trial.py",
    "engine/flow/lint/test_hostile.py",
    "engine/flow/test_hostile.py",
    "tui/test_walk.py",
    "tui/test_interludes.py",
    "tui/test_sizes.py",
    "engine/flow/draw/test_hostile.py",
    "engine/job/test_random_walks.py",
    "engine/vehicle/test_limit_stops.py",
    "tui/test_looks.py",
    "tui/test_drawing.py",
    "tui/test_trying.py",
    "tui/commands/test_terminal.py",
)
"""The files that take longest, longest first: a file goes to one worker, and one of these taken last would
keep it alone while the others have nothing left. A name that is out of date costs only time."""


def pytest_configure() -> None:
    """A shell that starts something in the background has it ignore Ctrl-C, and so would every child."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_xdist_auto_num_workers() -> int:
    """For `-n auto`: one more than there are processors.

    Tests of the screen and of the command wait a quarter of their time, for a rest, a child or the disk; with
    as many workers as processors those stood still meanwhile. With still more workers tests would wait for
    their turn instead; each takes half a GB, and imports all tests once more.
    """
    return (os.cpu_count() or 1) + 1


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files first; within a file, and among the others, as collected."""
    place = {Path(__file__).parent / name: number for number, name in enumerate(FIRST)}
    items.sort(key=lambda item: place.get(item.path, len(FIRST)))
