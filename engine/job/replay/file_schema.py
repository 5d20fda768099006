"""JSON Schema of replay files, for editors that know YAML. Whether a flow knows their names, replay tells."""

from __future__ import annotations

from typing import Any

from engine.flow.json_schema import DRAFT
from engine.job.replay.expected import EXPECTED
from engine.job.replay.layout import FORMAT, IN_WALK, KEYS

_TEXT: dict[str, Any] = {"type": ["string", "number", "boolean"]}
_WORD: dict[str, Any] = {"type": "string", "minLength": 1}
_FACT: dict[str, Any] = {"anyOf": [_TEXT, {"type": "array", "items": _TEXT}]}
_FACTS: dict[str, Any] = {"anyOf": [*_FACT["anyOf"], {"type": "object", "additionalProperties": _FACT}]}

_EXPECT: dict[str, Any] = {
    "type": "object",
    "additionalProperties": False,
    "minProperties": 1,
    "properties": {
        "finding": {"description": EXPECTED["finding"], **_WORD},
        "path": {"description": EXPECTED["path"], "type": "array", "items": _WORD},
    },
}

_SHAPES: dict[str, dict[str, Any]] = {
    "format": {"const": int(FORMAT)},
    "flow": _WORD,
    "facts": {"type": "object", "additionalProperties": _FACTS},
    "expect": _EXPECT,
}

_WALK: dict[str, Any] = {
    "type": "object",
    "additionalProperties": False,
    "properties": {key: {"description": said, **_SHAPES[key]} for key, said in IN_WALK.items()},
}

_SHAPES["walks"] = {"type": "object", "minProperties": 1, "additionalProperties": _WALK}


def replay_schema() -> dict[str, Any]:
    """The schema of a replay file, golden walks included."""
    return {
        "$schema": DRAFT,
        "title": f"A loadstep replay file, format {FORMAT}",
        "type": "object",
        "additionalProperties": False,
        "required": ["format", "facts"],
        "properties": {key: {"description": said, **_SHAPES[key]} for key, said in KEYS.items()},
    }
