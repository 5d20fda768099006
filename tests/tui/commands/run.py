"""Running the command as a person does: its own process, its own data folder."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

LOADSTEP = [sys.executable, "-P", "-c", "import sys; from tui.commands.main import main; sys.exit(main())"]
"""The entry point as the installed script calls it; -P keeps the current folder out of the import path."""


def environment(home: Path, **more: str) -> dict[str, str]:
    return {**os.environ, "LOADSTEP_HOME": str(home), "PYTHONDONTWRITEBYTECODE": "1", **more}


def loadstep(home: Path, *words: str | bytes, **more: str) -> subprocess.CompletedProcess[str]:
    """`loadstep WORDS` with `home` as data folder and no terminal; standard input is empty."""
    return subprocess.run(
        [*LOADSTEP, *words],
        env=environment(home, **more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
