"""The JSON Schemas of what authors write, by the kind of file, and where the shipped copies are."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import flows
from engine.flow.json_schema import flow_schema, part_schema
from engine.job.replay.file_schema import replay_schema

SCHEMAS: Mapping[str, Callable[[], dict[str, Any]]] = {
    "flow": flow_schema,
    "part": part_schema,
    "replay": replay_schema,
}
"""What makes the schema of each kind of file."""

FOLDER = Path(flows.__file__).parent / "schema"


def schema_file(kind: str) -> Path:
    """The shipped copy for a kind of file."""
    return FOLDER / f"{kind}-v1.json"


def schema_text(kind: str) -> str:
    """The schema as it is printed and committed."""
    return json.dumps(SCHEMAS[kind](), indent=2, ensure_ascii=False) + "\n"
