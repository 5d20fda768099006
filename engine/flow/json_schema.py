"""JSON Schema of flow files and of their parts, made from the models, for editors that know YAML.

Draft 7, which YAML language servers know best. It covers shape only: names that lead nowhere, quantities that
do not match and paths that never end are told by `loadstep lint`. Values are seen as YAML 1.2 reads them, so
that `revision: 1` is a number and `yes` is text.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, create_model
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from engine.flow.assemble.sections import OWN
from engine.flow.key_sentences import describe_keys
from engine.flow.scalars import Name
from engine.flow.schema import Head, RunPart, Waived, WatchPart

DRAFT = "http://json-schema.org/draft-07/schema#"

_REFERENCE = "#/definitions/{model}"


def flow_schema() -> dict[str, Any]:
    """The schema of a flow's own file."""
    describe_keys()
    sections: dict[str, Any] = {name: _section(part) for name, part in OWN.items()}
    sections["watch"] = (list[WatchPart], [])
    return _schema("A loadstep flow, format 1", create_model("Flow", __base__=Head, **sections))


def part_schema() -> dict[str, Any]:
    """The schema of a part that flows use."""
    describe_keys()
    sections: dict[str, Any] = {name: _section(part) for name, part in OWN.items()}
    model = create_model("PartFile", __base__=(RunPart, Waived), **sections)
    made = _schema("A part of loadstep flows, format 1", model)
    del made["required"]  # what a run of steps needs, only where there is one
    with_steps = {"steps": ["start"], "start": ["steps"], "exits": ["steps"]}
    return {**made, "minProperties": 1, "dependencies": with_steps}


def _section(part: type[BaseModel]) -> tuple[Any, Any]:
    return dict[Name, part], {}  # type: ignore[valid-type]


def _schema(title: str, model: type[BaseModel]) -> dict[str, Any]:
    made = model.model_json_schema(ref_template=_REFERENCE, schema_generator=_Generator)
    definitions = made.pop("$defs")
    for section in made["properties"].values():
        _describe_section(section, definitions)
    made |= {"$schema": DRAFT, "title": title, "definitions": definitions}
    return {key: made[key] for key in sorted(made, key=_ORDER.index)}


_ORDER = ["$schema", "title", "description", "type", "additionalProperties", "required", "properties"]
_ORDER += ["definitions"]


def _describe_section(section: dict[str, Any], definitions: dict[str, Any]) -> None:
    """A section without a sentence of its own takes that of its entries, and has at least one of them."""
    entries = section.get("items", section.get("additionalProperties"))
    if "description" in section or not isinstance(entries, dict):
        return
    name = entries["$ref"].rpartition("/")[2]
    section["description"] = definitions[name]["description"]
    section["minItems" if "items" in section else "minProperties"] = 1


class _Generator(GenerateJsonSchema):
    """The models as an author sees them: a key is written or left out, it is never null."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        made = super().default_schema(schema)
        if made.get("default") in (None, "", [], {}):
            made.pop("default", None)
        return made

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        made: JsonSchemaValue = {"type": "object"}
        if "keys_schema" in schema:
            made["propertyNames"] = self.generate_inner(schema["keys_schema"])
        if "values_schema" in schema:
            made["additionalProperties"] = self.generate_inner(schema["values_schema"])
        return made
