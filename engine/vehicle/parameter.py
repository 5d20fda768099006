"""A free parameter of the model: its value, unit, meaning and where it comes from, in one place.

Every field of the part dataclasses in `engine.vehicle.parts` is made by `free`; `listed` walks a vehicle and
gives all of them, for the command that prints them and for the test that none is without an origin.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import Field, dataclass, field, fields, is_dataclass
from typing import Any

SOURCES = ("source", "fit", "assumption", "identity")
"""First word of an origin: a published source, a fit to one, our assumption, or what the part is."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One free parameter as listed. `path` as `condenser.conductance`; `value` in `unit`."""

    path: str
    value: object
    unit: str
    meaning: str
    origin: str


def free(default: Any, unit: str, meaning: str, origin: str) -> Any:
    """A dataclass field with what it means and where it comes from. `origin` begins with one of `SOURCES`."""
    if origin.split(":", 1)[0] not in SOURCES:
        raise ValueError(f"the origin of a parameter begins with one of {', '.join(SOURCES)}: {origin!r}")
    return field(default=default, metadata={"unit": unit, "meaning": meaning, "origin": origin})


def listed(part: Any, prefix: str = "") -> Iterator[Parameter]:
    """All free parameters of a dataclass and of the parts inside it, in order of declaration."""
    for one in fields(part):
        value = getattr(part, one.name)
        if is_dataclass(value):
            yield from listed(value, f"{prefix}{one.name}.")
        else:
            yield _parameter(one, value, prefix)


def _parameter(one: Field[Any], value: object, prefix: str) -> Parameter:
    notes = one.metadata
    return Parameter(prefix + one.name, value, notes["unit"], notes["meaning"], notes["origin"])
