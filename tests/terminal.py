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


def _take_terminal() -> None:
    ioctl(0, termios.TIOCSCTTY, 0)


class Terminal:
    """Runs `command` on a terminal of its own; `begun` is when it was started, `received` all it wrote.

    Without `controls` the system tells the program nothing when the terminal is closed.
    """

    def __init__(self, command: Sequence[str], environment: dict[str, str], controls: bool = True) -> None:
        self.screen = pyte.Screen(COLUMNS, LINES)
        self.received = b""
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
            preexec_fn=_take_terminal if controls else None,  # so that closing it is a hang-up
        )
        os.close(program_end)

    def __enter__(self) -> Self:
        return self

    @property
    def pid(self) -> int:
        return self._process.pid

    def send(self, text: str) -> None:
        """Type `text`."""
        os.write(self._own, text.encode())

    def end(self, timeout: float = 20.0) -> int:
        """The exit code, once the program has ended; what it still writes is shown."""
        limit = time.perf_counter() + timeout
        while self._process.poll() is None:
            if time.perf_counter() > limit:
                raise TimeoutError(f"still running after {timeout} s; on the screen was:\n{self.text}")
            if select.select([self._own], [], [], 0.05)[0]:
                self._stream.feed(self._read())
        while select.select([self._own], [], [], 0.0)[0] and (rest := self._read()):
            self._stream.feed(rest)
        return self._process.returncode

    def hang_up(self) -> int:
        """Close the terminal under the program, as closing its window does; the exit code it ends with."""
        os.close(self._own)
        self._own = -1
        return self._process.wait(20)

    def _read(self) -> bytes:
        try:
            data = os.read(self._own, 65536)
        except OSError:  # nobody has the other end open any more
            return b""
        self.received += data
        return data

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        if self._own >= 0:
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
            self._stream.feed(self._read())
            if seen(self.text):
                return arrived - self.begun
