"""Air pressure against height (references.md section 8)."""

from __future__ import annotations

import pytest

from engine.physics.atmosphere import pressure_at_elevation

# ASHRAE Fundamentals 2017 ch. 1 table 1, Pa (seen through psychrolib's tests).
PRINTED = {-500: 107478, 0: 101325, 500: 95461, 1000: 89875, 4000: 61640}

# ISA with geometric heights, Pa (computed for references.md); the tolerance covers geopotential as well.
COMPUTED = {1500: 84560, 2000: 79501, 3000: 70121}

# engineeringtoolbox.com, standard atmosphere, psia at feet.
FEET = {5000: 12.228, 10000: 10.108}


@pytest.mark.parametrize(("metres", "pascal"), PRINTED.items())
def test_10_printed(metres: int, pascal: int) -> None:
    assert pressure_at_elevation(metres) == pytest.approx(pascal, abs=2.0)


@pytest.mark.parametrize(("metres", "pascal"), COMPUTED.items())
def test_11_computed(metres: int, pascal: int) -> None:
    assert pressure_at_elevation(metres) == pytest.approx(pascal, abs=20.0)


@pytest.mark.parametrize(("feet", "psia"), FEET.items())
def test_in_feet_and_psia(feet: int, psia: float) -> None:
    """Held to 20 Pa, as test 11."""
    assert pressure_at_elevation(feet * 0.3048) == pytest.approx(psia * 6894.757, abs=20.0)
