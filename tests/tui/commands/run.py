"""Running the command as a person does: its own process, its own data folder."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.tui.commands.nursery import born

LOADSTEP = [sys.executable, "-P", "-c", "import sys; from tui.commands.main import main; sys.exit(main())"]
"""The entry point as the installed script calls it; -P keeps the current folder out of the import path."""


def environment(home: Path, **more: str) -> dict[str, str]:
    return {**os.environ, "LOADSTEP_HOME": str(home), "PYTHONDONTWRITEBYTECODE": "1", **more}


def loadstep(home: Path, *words: str | bytes, **more: str) -> subprocess.CompletedProcess[str]:
    """`loadstep WORDS` with `home` as data folder and no terminal; standard input is empty.

    In a process that has most modules already; with another environment than a width, which may change how an
    interpreter starts, it starts cold.
    """
    if more.keys() - {"COLUMNS"}:
        return loadstep_cold(home, *words, **more)
    return born("tui.commands.main:main", [os.fsdecode(word) for word in words], environment(home, **more))


def loadstep_cold(home: Path, *words: str | bytes, **more: str) -> subprocess.CompletedProcess[str]:
    """The same in a process that starts from nothing, as the installed command does."""
    return subprocess.run(
        [*LOADSTEP, *words],
        env=environment(home, **more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
