"""A program on a pseudo-terminal, with the screen a person would see."""

from __future__ import annotations

import os
import pty
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from fcntl import ioctl
from types import TracebackType
from typing import Self

import pyte

COLUMNS, LINES = 100, 30


class Terminal:
    """Runs `command` on a terminal of its own; `begun` is the time it was started at."""

    def __init__(self, command: Sequence[str], environment: dict[str, str]) -> None:
        self.screen = pyte.Screen(COLUMNS, LINES)
        self._stream = pyte.ByteStream(self.screen)
        self._own, program_end = pty.openpty()
        ioctl(program_end, termios.TIOCSWINSZ, struct.pack("HHHH", LINES, COLUMNS, 0, 0))
        self.begun = time.perf_counter()
        self._process = subprocess.Popen(
            command,
            env={**environment, "TERM": "xterm-256color", "COLORTERM": "truecolor"},
            stdin=program_end,
            stdout=program_end,
            stderr=program_end,
            start_new_session=True,
        )
        os.close(program_end)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        os.close(self._own)

    @property
    def text(self) -> str:
        """What is on the screen now."""
        return "\n".join(self.screen.display)

    def until(self, seen: Callable[[str], bool], timeout: float = 20.0) -> float:
        """Seconds from the start of the program until the bytes arrived with which `seen` holds."""
        while True:
            ready, _, _ = select.select([self._own], [], [], timeout)
            arrived = time.perf_counter()
            if not ready:
                raise TimeoutError(f"not seen within {timeout} s; on the screen was:\n{self.text}")
            self._stream.feed(os.read(self._own, 65536))
            if seen(self.text):
                return arrived - self.begun
