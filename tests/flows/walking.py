"""Walks of the main flow made from `walks.yaml`: the sound vehicle, with what each walk changes."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from engine.flow.load import load_path
from engine.flow.model import Flow
from engine.job.replay.run import replay_file
from engine.job.walk import Walk

FLOWS = Path(__file__).parents[2] / "flows"
MAIN = FLOWS / "stroke_by_load.yaml"
EXAMPLES = sorted((FLOWS / "examples").glob("*.yaml"))
_WALKS = yaml.load(Path(__file__).with_name("walks.yaml").read_text(), yaml.BaseLoader)


@dataclass(frozen=True)
class Golden:
    """One committed walk and the finding it must come to."""

    name: str
    facts: dict[str, Any]
    finding: str


@cache
def main_flow() -> Flow:
    return load_path(MAIN)


def goldens() -> list[Golden]:
    return [
        Golden(name, changed(_WALKS["sound"], walk), walk["finding"])
        for name, walk in _WALKS["walks"].items()
    ]


def changed(sound: dict[str, Any], walk: dict[str, Any]) -> dict[str, Any]:
    """The facts of a walk: those of the sound vehicle, less what it unsets, with what it sets."""
    facts: dict[str, Any] = {} if walk.get("from") == "nothing" else deepcopy(sound)
    for name in walk.get("unset", ()):
        owner, _, inner = name.rpartition(".")
        (facts[owner] if owner else facts).pop(inner)
    for name, value in walk.get("set", {}).items():
        if isinstance(value, dict):
            facts.setdefault(name, {}).update(value)
        else:
            facts[name] = value
    return facts


def walked(facts: dict[str, Any], folder: Path) -> Walk:
    """The finished walk of these facts, read through a real replay file."""
    file = folder / "walk.yaml"
    file.write_text(yaml.safe_dump({"format": "1", "facts": facts}))
    return replay_file(str(file)).walk
