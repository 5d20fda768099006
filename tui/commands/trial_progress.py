"""A bar with the time left, on standard error and only where that is a terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from engine.vehicle.trial.run import OnDone


@contextmanager
def progress(total: int) -> Iterator[OnDone]:
    """Something to tell how many more vehicles are done."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield _nothing
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (
        TextColumn("vehicles"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(compact=True),
        TextColumn("left"),
    )
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=total)
        yield lambda more: bar.advance(task, more)


def _nothing(more: int) -> None:
    """Nobody looks."""
