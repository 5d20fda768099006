"""Replay files for the tests, beside the little flow they walk."""

from __future__ import annotations

import shutil
from pathlib import Path

from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.run import Replayed, replay_file

HEAD = "format: 1\nflow: ./tiny.yaml\nfacts:\n"

GOOD = """\
  drive: belt
  contents: none
  elevation: 1000
  refrigerant: R-134a
  baseline: {low_side: 40, high_side: 10}
  loaded: {low_side: 2.5 bar, high_side: 12.5}
"""


def written(folder: Path, text: str | bytes) -> str:
    """The path of a replay file with `text`, the flow beside it."""
    shutil.copy(Path(__file__).parent / "tiny.yaml", folder)
    path = folder / "job.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return str(path)


def replayed(folder: Path, facts: str) -> Replayed:
    """The walk of `facts` through the little flow."""
    return replay_file(written(folder, HEAD + facts))


def problems_of(folder: Path, text: str | bytes) -> tuple[ReplayProblem, ...]:
    """What is wrong with a file; there must be something."""
    try:
        done = replay_file(written(folder, text))
    except ReplayErrors as errors:
        return errors.problems
    raise AssertionError(f"walked to {done.walk.conclusion}")
