"""Every free parameter is listed with its unit, meaning and origin."""

from __future__ import annotations

from dataclasses import fields

import pytest

from engine.vehicle.design import parameters, reference, with_orifice, with_refrigerant, with_valve
from engine.vehicle.parameter import SOURCES, free


def test_all_are_listed_with_where_they_come_from() -> None:
    listed = parameters()
    assert len(listed) == len({p.path for p in listed})
    for parameter in listed:
        assert parameter.unit
        assert parameter.meaning
        assert parameter.origin.split(":", 1)[0] in SOURCES
        assert parameter.origin != parameter.origin.split(":", 1)[0] or parameter.origin == "assumption"


def test_no_field_of_any_part_is_left_out() -> None:
    paths = {p.path for p in parameters()}
    car = reference()
    for part in fields(car):
        value = getattr(car, part.name)
        if part.name == "refrigerant":
            assert part.name in paths
        else:
            assert {f"{part.name}.{f.name}" for f in fields(value)} <= paths


def test_an_origin_of_no_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="origin"):
        free(1.0, "-", "something", "because")


def test_variants_are_named_and_the_unknown_is_refused() -> None:
    assert with_valve(reference(), "flow").valve.kind == "flow"
    assert with_orifice(reference()).condenser.receiver_m3 == 0.0
    assert with_refrigerant(reference(), "R-1234yf").refrigerant == "R-1234yf"
    with pytest.raises(ValueError, match="suction"):
        with_valve(reference(), "spring")
    with pytest.raises(ValueError, match="R-134a"):
        with_refrigerant(reference(), "R-744")
