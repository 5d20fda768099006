"""One program at a time opens, creates, migrates or sets aside a store; a dead one's lock is dropped."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

LOCK_NAME = "opening.lock"
_PATIENCE = 5.0  # seconds; opening takes milliseconds, a large migration some seconds
_PAUSE = 0.02


@contextmanager
def opening(folder: Path) -> Iterator[None]:
    """Hold the opening lock of `folder`.

    OSError if the folder takes no file. A drive that knows no locks, or a lock held longer than the patience,
    does not keep the person from working: the block runs all the same.
    """
    handle = os.open(folder / LOCK_NAME, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        _wait(handle)
        yield
    finally:
        os.close(handle)  # closing releases


def _wait(handle: int) -> None:
    give_up = time.monotonic() + _PATIENCE
    while time.monotonic() < give_up:
        try:
            _lock(handle)
        except (BlockingIOError, PermissionError):
            time.sleep(_PAUSE)
        except OSError:
            return
        else:
            return


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
