"""The JSON Schemas are current, take every shipped file, and refuse what authors get wrong most."""

from __future__ import annotations

import re
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft7Validator

from engine.flow.assemble.sections import OWN
from engine.flow.load import load_path
from engine.flow.problem import FlowErrors
from engine.job.make_schemas import main
from engine.job.schemas import SCHEMAS, schema_file, schema_text

FLOWS = Path(__file__).parents[3] / "flows"
SHIPPED = {
    "flow": sorted(FLOWS.glob("*.yaml")),
    "part": sorted((FLOWS / "parts").rglob("*.yaml")),
    "replay": sorted((FLOWS / "examples").rglob("*.yaml")),
}
SMALL = Path(__file__).parents[2] / "tui" / "flows" / "small.yaml"


class _Yaml12(yaml.SafeLoader):
    """Scalars as the core schema of YAML 1.2 reads them, which is what language servers do."""


_Yaml12.yaml_implicit_resolvers = {}
for _tag, _pattern, _first in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
):
    _Yaml12.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_pattern})$"), list(_first))


def as_an_editor_reads(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), _Yaml12)


def complaints(kind: str, document: Any) -> list[str]:
    return [error.message for error in Draft7Validator(SCHEMAS[kind]()).iter_errors(document)]


@pytest.mark.parametrize("kind", SCHEMAS)
def test_the_schema_is_one(kind: str) -> None:
    Draft7Validator.check_schema(SCHEMAS[kind]())


@pytest.mark.parametrize("kind", SCHEMAS)
def test_the_copy_that_comes_along_is_current(kind: str) -> None:
    assert schema_file(kind).read_text(encoding="utf-8") == schema_text(kind)
    assert main(["--check"]) == 0


@pytest.mark.parametrize(
    ("kind", "path"),
    [(kind, path) for kind, paths in SHIPPED.items() for path in paths],
    ids=lambda each: each.stem if isinstance(each, Path) else each,
)
def test_every_shipped_file_is_taken_and_points_at_its_schema(kind: str, path: Path) -> None:
    assert complaints(kind, as_an_editor_reads(path)) == []
    first = path.read_text(encoding="utf-8").partition("\n")[0]
    named = first.removeprefix("# yaml-language-server: $schema=")
    assert named != first
    assert (path.parent / named).resolve() == schema_file(kind)


def _properties(schema: Any, path: str = "") -> list[tuple[str, Any]]:
    found = []
    if isinstance(schema, dict):
        properties = schema.get("properties", {})
        found = [(f"{path}.{name}", each) for name, each in properties.items()]
        for name, each in schema.items():
            found += _properties(each, f"{path}.{name}")
    elif isinstance(schema, list):
        found = [each for item in schema for each in _properties(item, path)]
    return found


@pytest.mark.parametrize("kind", SCHEMAS)
def test_every_key_says_what_it_is_for(kind: str) -> None:
    properties = _properties(SCHEMAS[kind]())
    assert len(properties) > 5
    assert [name for name, each in properties if not each.get("description", "").endswith(".")] == []


@pytest.mark.parametrize("section", [*OWN, "watch"])
def test_every_section_of_a_flow_can_be_completed(section: str) -> None:
    assert section in SCHEMAS["flow"]()["properties"]


MISTAKES: dict[str, tuple[tuple[str | int, ...], Any]] = {
    "a key misspelt": (("steps", "base", "exposur"), ["pressurised"]),
    "a signal word in small letters": (("cautions", "burst", "signal"), "warning"),
    "a load there is not": (("sets", "loaded", "load"), "high"),
    "a quantity there is not": (("readings", "low_side", "quantity"), "presure"),
    "a quantity and choices": (("readings", "low_side", "choices"), {"a": "A", "b": "B"}),
    "one name where a list belongs": (("steps", "base", "record"), "low_side"),
    "a name with a blank": (("steps", "base", "set"), "base line"),
    "a word of the conditions as a name": (("steps", "base", "next"), "not"),
    "text where a number belongs": (("revision",), "one"),
    "yes where true belongs": (("steps", "caps", "end"), "yes"),
    "an empty section": (("sets",), {}),
    "a key without a value": (("steps", "base", "do"), None),
    "odds by a word there is not": (("signs", "silent", "weighs", "weak"), "certain"),
    "a skip without for": (("steps", "base", "skip_to"), "raise"),
    "a rule that leads nowhere": (("steps", "base", "next"), [{"when": "low_side > 3 psi"}]),
    "another format": (("format",), 2),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_typical_mistake_is_refused_by_the_schema_and_by_us(mistake: str, tmp_path: Path) -> None:
    path, value = MISTAKES[mistake]
    document = as_an_editor_reads(SMALL)
    assert complaints("flow", document) == []
    broken: Any = deepcopy(document)
    *way, key = path
    place = broken
    for part in way:
        place = place[part]
    place[key] = value
    assert complaints("flow", broken) != []
    file = tmp_path / "small.yaml"
    file.write_text(yaml.safe_dump(broken, sort_keys=False).replace(": null\n", ":\n"), encoding="utf-8")
    with pytest.raises(FlowErrors):
        load_path(file)


@pytest.mark.parametrize("key", ["format", "flow", "revision", "title", "about", "start"])
def test_what_is_missing_is_told(key: str) -> None:
    document = as_an_editor_reads(SMALL)
    del document[key]
    assert complaints("flow", document) == [f"'{key}' is a required property"]


@pytest.mark.parametrize(
    "document",
    [
        {"format": 1},
        {"format": 2, "facts": {}},
        {"format": 1, "facts": {"loaded": {"low_side": {"psi": 3}}}},
        {"format": 1, "facts": {}, "expect": {"findng": "weak"}},
        {"format": 1, "facts": {}, "expect": {"path": "a"}},
        {"format": 1, "facts": {}, "name": "x"},
    ],
)
def test_a_bad_replay_file_is_refused(document: Any) -> None:
    assert complaints("replay", document) != []
