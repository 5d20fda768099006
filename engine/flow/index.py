"""Titles of the shipped flows, known without reading a flow: the start screen must not wait for yaml.

Imports neither yaml nor pydantic. `engine.flow.make_index` writes the file that is read here.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import flows

INDEX = Path(flows.__file__).parent / "index.json"


@dataclass(frozen=True, slots=True)
class FlowTitle:
    """What a person chooses a flow by."""

    name: str
    title: str
    revision: int
    about: str


def titles() -> list[FlowTitle]:
    """The shipped flows, in the order they are listed."""
    entries = json.loads(INDEX.read_text(encoding="utf-8"))
    return [FlowTitle(e["name"], e["title"], e["revision"], e["about"]) for e in entries]
