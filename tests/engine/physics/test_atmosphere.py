"""Which air the gauges stand in. Published heights are in tests/published/test_atmosphere_tables.py."""

from __future__ import annotations

import pytest

from engine.physics.atmosphere import AtmosphereError, atmosphere, pressure_at_elevation


def test_a_barometer_on_site_wins() -> None:
    found = atmosphere(1600.0, 99000.0)
    assert (found.pressure, found.source) == (99000.0, "barometer")


def test_elevation_is_used_without_a_barometer() -> None:
    found = atmosphere(1600.0, None)
    assert found.source == "elevation"
    assert 83e3 < found.pressure < 84e3  # between the tabled 1500 m (84556) and 2000 m (79495)


def test_without_either_sea_level_is_assumed_and_said() -> None:
    found = atmosphere(None, None)
    assert (found.pressure, found.source) == (101325.0, "sea level assumed")


@pytest.mark.parametrize("elevation", [-501.0, 11001.0, float("nan"), float("inf")])
def test_elevations_off_the_map_are_refused(elevation: float) -> None:
    with pytest.raises(AtmosphereError, match=r"outside -500 to 11000 m .*Check the number and its unit"):
        pressure_at_elevation(elevation)


@pytest.mark.parametrize("barometer", [14.7, 30e3, 1013e3, float("nan")])
def test_barometers_in_the_wrong_unit_are_refused(barometer: float) -> None:
    with pytest.raises(AtmosphereError, match=r"it reads 40 to 110 kPaa .*Check the number and its unit"):
        atmosphere(None, barometer)
