"""The names of computed readings are whole, and each has a function behind it."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest

from engine.flow.computed import COMPUTED, find_computed
from engine.flow.computed.values import _OF_JOB, _OF_SET


def test_each_name_is_a_quantity_or_a_choice_of_words() -> None:
    for name, entry in COMPUTED.items():
        assert entry.name == name
        assert (entry.kind is None) == bool(entry.choices), name
        assert entry.label, name


def test_each_name_has_a_function_except_settled_which_the_walk_notes() -> None:
    of_set = {name for name, entry in COMPUTED.items() if entry.scope == "set"}
    assert set(_OF_SET) == of_set - {"settled"}
    assert set(_OF_JOB) == set(COMPUTED) - of_set


def test_needs_are_told_as_full_names() -> None:
    superheat = COMPUTED["superheat"]
    assert superheat.full_needs("loaded") == (
        "loaded.low_side",
        "loaded.suction_line_temperature",
        "refrigerant",
    )
    assert "barometric_pressure" in superheat.full_uses("loaded")
    assert "static.low_side" in COMPUTED["static_charge"].full_uses()
    with pytest.raises(ValueError, match="belongs to a set"):
        superheat.full_needs()


def test_unknown_is_never_a_choice() -> None:
    assert not [name for name, entry in COMPUTED.items() if "unknown" in entry.choices]


@pytest.mark.parametrize(
    ("full_name", "found"),
    [
        ("loaded.superheat", ("superheat", "loaded")),
        ("static_charge", ("static_charge", None)),
        ("superheat", None),
        ("loaded.static_charge", None),
        ("loaded.low_side", None),
        ("", None),
    ],
)
def test_a_computed_reading_is_found_by_its_full_name_only(full_name: str, found: Any) -> None:
    entry = find_computed(full_name)
    assert (entry and (entry[0].name, entry[1])) == found


def test_naming_needs_no_property_tables() -> None:
    """Checking a flow must stay light: the names alone load no refrigerant."""
    code = "import sys, engine.flow.computed; print('engine.physics.refrigerant' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "False"
