"""What happens when the program itself is at fault: a report on disk, and the way to go on.

The report holds versions, the terminal, the flow, the kinds of the last events and the place in the code.
It holds no values, notes or names: an exception's own text may quote what a person typed, so it stays out.
"""

from __future__ import annotations

import os
import platform
import shutil
import sys
import tempfile
import traceback
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from tui.commands.output import complain

_LAST_EVENTS = 20
_PACKAGES = ("loadstep", "textual", "CoolProp", "pydantic", "PyYAML")
_TERMINAL = ("TERM", "COLORTERM", "TERM_PROGRAM", "LANG", "TMUX", "SSH_TTY")
_PRESENCE_ONLY = ("TMUX", "SSH_TTY")  # their values say more of the machine than we need


@dataclass(frozen=True, slots=True)
class OpenJob:
    """What the report may tell of the job that was open."""

    number: int
    flow: str
    event_kinds: Sequence[str]


def report_crash(error: BaseException, job: OpenJob | None = None) -> None:
    """Write the report and tell the person where it is, that the job is safe and how to resume."""
    text = "\n".join(_report(error, job)) + "\n"
    path = _write_report(text)
    complain("loadstep stopped because of a mistake of its own, not yours.")
    if path is None:
        complain("No report could be written; this is what it would have said:")
        for line in text.splitlines():
            complain(f"  {line}")
    else:
        complain(f"A report without customer data is in {path}")
    if job is not None:
        complain(
            f"Job {job.number} is safe: every accepted answer is on disk. "
            f"To go on, run `loadstep` and open job {job.number}."
        )
    else:
        complain(
            "Jobs are safe: every accepted answer is on disk. To go on, run `loadstep` and open the job."
        )


def _report(error: BaseException, job: OpenJob | None) -> Iterator[str]:
    yield f"loadstep crash report, {datetime.now(UTC).isoformat(timespec='seconds')}"
    yield f"python: {platform.python_version()} on {platform.platform()}"
    for package in _PACKAGES:
        yield f"{package}: {_version(package)}"
    yield f"command: {sys.argv[1] if len(sys.argv) > 1 else '(start screen)'}"
    yield f"terminal: {_terminal()}"
    if job is not None:
        yield f"flow: {job.flow}"
        yield f"last events: {' '.join(job.event_kinds[-_LAST_EVENTS:])}"
    yield from _chain(error)


def _chain(error: BaseException) -> Iterator[str]:
    """The exception and what caused it, as types and places."""
    seen: BaseException | None = error
    while seen is not None:
        yield f"error: {type(seen).__module__}.{type(seen).__qualname__}"
        for frame in traceback.extract_tb(seen.__traceback__):
            yield f"  {frame.filename}:{frame.lineno} in {frame.name}"
        seen = seen.__cause__ or seen.__context__


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"


def _terminal() -> str:
    columns, lines = shutil.get_terminal_size()
    told = [f"{columns}x{lines}"]
    for name in _TERMINAL:
        value = os.environ.get(name)
        if value is not None:
            told.append(name if name in _PRESENCE_ONLY else f"{name}={value}")
    return " ".join(told)


def _write_report(text: str) -> Path | None:
    """The report's path: in the data folder, or where that cannot be written, among temporary files."""
    name = f"crash-{datetime.now(UTC):%Y%m%d-%H%M%S}-{os.getpid()}.txt"
    for folder in _folders():
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
            path = folder / name
            path.write_text(text, encoding="utf-8")
            return path
    return None


def _folders() -> Iterator[Path]:
    with suppress(Exception):  # what is broken may be exactly this
        from engine.job.store.place import default_folder

        yield default_folder() / "crashes"
    yield Path(tempfile.gettempdir())
