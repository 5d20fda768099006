"""Commands in processes of their own, without the half second that importing takes each time.

A child that has imported what most commands need forks for each command. What runs is a process all the
same: its standard streams, environment, arguments, end and exit code are its own. What this cannot show is
that a command comes up from nothing: each has tests that start it cold (`tests.tui.commands.run`).
"""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
from functools import cache
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryFile
from typing import NoReturn

ROOT = Path(__file__).parents[3]

READY = (
    "engine.flow.load",
    "engine.flow.lint.run",
    "engine.flow.draw.layout",
    "engine.job.session",
    "engine.job.store",
    "engine.vehicle.trial.run",
    "jinja2",
)
"""Of the commands nothing is imported ahead: each imports anew whatever it names."""

LONGEST = 100
"""Seconds until a command that hangs is ended by its alarm."""


def born(entry: str, words: list[str], env: dict[str, str]) -> subprocess.CompletedProcess[str]:
    """What `entry` (module:function that returns the exit code) did with `words` as arguments."""
    with TemporaryFile() as out, TemporaryFile() as err:
        line = _line()
        asked = json.dumps([entry, words, env, str(Path.cwd())]).encode("ascii")
        socket.send_fds(line, [len(asked).to_bytes(8, "big")], [out.fileno(), err.fileno()])
        line.sendall(asked)
        answer = line.recv(4)
        assert answer, "the nursery died: run `python -m tests.tui.commands.nursery 0` to see why"
        out.seek(0)
        err.seek(0)
        code = int.from_bytes(answer, "big", signed=True)
        return subprocess.CompletedProcess(words, code, _text(out.read()), _text(err.read()))


def _text(raw: bytes) -> str:
    """As `subprocess` decodes: any end of line is a line feed."""
    return raw.decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")


@cache
def _line() -> socket.socket:
    """To the one nursery of this process, which ends when the line is closed, at the latest with it."""
    ours, theirs = socket.socketpair()
    with theirs:
        subprocess.Popen(
            [sys.executable, "-m", __name__, str(theirs.fileno())],
            cwd=ROOT,
            pass_fds=[theirs.fileno()],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
    return ours


def _serve(line: socket.socket) -> None:
    for name in READY:
        import_module(name)
    while True:
        head, streams, _, _ = socket.recv_fds(line, 8, 2)
        if not head:
            return
        asked = b""
        while len(asked) < int.from_bytes(head, "big"):
            asked += line.recv(1 << 16)
        child = os.fork()
        if child == 0:
            line.close()
            _live(streams, *json.loads(asked))
        for stream in streams:
            os.close(stream)
        _, status = os.waitpid(child, 0)
        line.sendall(os.waitstatus_to_exitcode(status).to_bytes(4, "big", signed=True))


def _live(streams: list[int], entry: str, words: list[str], env: dict[str, str], folder: str) -> NoReturn:
    """Be the command, and end as an interpreter does, with a traceback where nobody caught an error."""
    signal.alarm(LONGEST)
    for number, stream in enumerate(streams, start=1):  # nothing was printed yet: the buffers are empty
        os.dup2(stream, number)
        os.close(stream)
    os.environ.clear()
    os.environ.update(env)
    os.chdir(folder)
    sys.argv = ["-c", *words]
    module, _, function = entry.partition(":")
    sys.exit(getattr(import_module(module), function)())


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as ours:
        _serve(ours)
