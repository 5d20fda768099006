"""The JSON Schema of one line of `loadstep replay --json`, shipped as package data."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any


def json_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that every line of `loadstep replay --json` meets."""
    text = files(__package__).joinpath("schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema
