"""What a long flow costs: counted in calls, so that no clock and no busy machine has a say."""

from __future__ import annotations

import sys
from pathlib import Path
from types import FrameType
from typing import Any

from engine.flow.lint.run import lint
from tests.engine.flow.long import long_files


def calls_of_lint(folder: Path, steps: int) -> int:
    """Calls that lint of a flow makes, which has no problem."""
    folder.mkdir()
    for name, text in long_files(steps, 100).items():
        (folder / name).write_text(text, encoding="utf-8")
    count = 0

    def counted(frame: FrameType, event: str, _: Any) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(counted)
    try:
        found = lint(folder / "long.yaml")
    finally:
        sys.setprofile(None)
    assert found == []
    return count


def test_cost_grows_with_the_steps(tmp_path: Path) -> None:
    """Five times the steps, five times the calls; a tenth is left for what is looked up by halving."""
    short = calls_of_lint(tmp_path / "short", 200)
    long = calls_of_lint(tmp_path / "long", 1_000)
    assert long <= 5 * 1.1 * short
