"""One golden walk as the object that `loadstep check --json` prints; `schema.json` describes it."""

from __future__ import annotations

import json
from dataclasses import asdict
from importlib.resources import files
from typing import Any

from engine.job.golden.checking import Checked

FORMAT = 1


def result(walk: Checked, *, accepted: bool) -> dict[str, Any]:
    """The object for a walk; `accepted`: the file now expects what it came to."""
    expected = walk.expected
    return {
        "format": FORMAT,
        "file": walk.file,
        "walk": walk.walk or None,
        "state": str(walk.state),
        "finding": walk.finding or None,
        "path": list(walk.path),
        "expected": {"finding": expected.finding, "path": _listed(expected.path)} if expected else None,
        "problems": [asdict(problem) for problem in walk.problems],
        "accepted": accepted,
    }


def _listed(path: tuple[str, ...] | None) -> list[str] | None:
    return None if path is None else list(path)


def json_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that every line of `loadstep check --json` meets."""
    text = files(__package__).joinpath("schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema
