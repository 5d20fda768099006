"""Keeping the screen free of pauses that the garbage collector would make."""

from __future__ import annotations

import gc

_THRESHOLDS = (5_000, 5, 10_000)
"""Young garbage is collected in some milliseconds; a collection of everything takes a tenth of a second."""


def spare_pauses() -> None:
    """To be called once, before the app runs: what is loaded by then is never looked through again.

    A whole walk makes little cyclic garbage that lives long: without collections of everything it ends some
    MiB higher (`python -m tests.bench` prints where).
    """
    gc.freeze()
    gc.set_threshold(*_THRESHOLDS)
