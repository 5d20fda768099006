"""The shipped bands are those of the fleet as it is now."""

from __future__ import annotations

import json
import math
from copy import deepcopy

import pytest

from engine.physics import bands_data
from engine.physics.fleet_table import TABLE_PATH, dampness, fleet_cells, grid_weights
from engine.physics.quantity import to_si
from engine.vehicle.band_fit import QUANTILES, fit_cells
from engine.vehicle.band_sample import FLEET_NAME, SEED, Sample
from engine.vehicle.instruments import INSTRUMENTS, Instrument
from engine.vehicle.make_bands import VEHICLES, stale_witnesses

TABLE = json.loads(TABLE_PATH.read_text(encoding="utf-8"))


def test_the_table_is_current() -> None:
    """Its first vehicles settle to what it says; if not: `python -m engine.vehicle.make_bands`."""
    made = (TABLE["version"], TABLE["fleet"], TABLE["seed"], TABLE["vehicles"], tuple(TABLE["quantiles"]))
    assert made == (bands_data.BAND_VERSION, FLEET_NAME, SEED, VEHICLES, QUANTILES)
    assert stale_witnesses(TABLE) == []


def test_a_changed_vehicle_is_noticed() -> None:
    other = deepcopy(TABLE)
    other["witnesses"][3][1] += 0.05
    assert stale_witnesses(other) == [3]


def test_all_valves_and_both_refrigerants_are_in_it() -> None:
    """The cells are of several thousand vehicles drawn as the fleet draws them; it is small all the same."""
    assert TABLE["vehicles"] >= 3000
    assert TABLE_PATH.stat().st_size < 60_000
    for load in ("lowered", "moderate", "raised"):
        for speed in ("idle", "held"):
            assert (load, "part", speed) in fleet_cells()
            assert (load, "minimum", speed) in fleet_cells()
    assert ("raised", "ceiling", "held") in fleet_cells()


def error_of(instrument: Instrument) -> float:
    """Two standard deviations of bias and noise, and half a step, in SI."""
    zero, step = (to_si(n, instrument.unit, instrument.kind) for n in (0.0, instrument.step))
    return 2.0 * math.hypot(instrument.bias, instrument.noise) + 0.5 * (step - zero)


@pytest.mark.parametrize(
    ("name", "widened"),
    [
        ("low gauge", bands_data.LOW_GAUGE_ERROR_PA),
        ("high gauge", bands_data.HIGH_GAUGE_ERROR_PA),
        ("weather probe", bands_data.AMBIENT_ERROR_K),
        ("air probe", bands_data.VENT_ERROR_K),
    ],
)
def test_instruments_widen_by_their_stated_error(name: str, widened: float) -> None:
    assert widened == pytest.approx(error_of(INSTRUMENTS[name]), rel=0.02)


def made_up(index: int) -> Sample:
    """Evaporating = ambient / 4 + 2 x dampness, with a saw-tooth of one kelvin: all hand-made."""
    ambient, damp, tooth = 5.0 + 43.0 * (index % 97) / 96.0, (index % 11) / 10.0, (index % 101) / 50.0 - 1.0
    low = ambient / 4.0 + 2.0 * damp + tooth
    return Sample(index, "raised", ("part",), False, True, ambient, damp, 25.0, low, 20.0, 8.0, 1e6)


def test_a_fit_finds_what_was_put_in() -> None:
    cell = fit_cells([made_up(i) for i in range(4000)])["raised/part/held"]
    column = cell["columns"]["low_side"]
    for ambient, damp in ((8.0, 0.2), (26.0, 0.5), (41.0, 0.9)):
        fitted = sum(column["grid"][i] * weight for i, weight in grid_weights(ambient, damp))
        assert fitted == pytest.approx(ambient / 4.0 + 2.0 * damp, abs=0.15)
    assert column["low"] == pytest.approx([-0.98] * 7, abs=0.15)
    assert column["high"] == pytest.approx([0.98] * 7, abs=0.15)
    assert cell["own"] == [1.0] * 7


def test_dampness_runs_from_dry_to_as_damp_as_air_gets() -> None:
    """26 degC dew point is 3.36 kPa: 30 % at 48 degC, 95 % is less than that at 20 degC."""
    assert dampness(293.15, 0.2) == 0.0
    assert dampness(293.15, 0.95) == 1.0
    assert dampness(321.15, 0.31) == 1.0
    assert 0.0 < dampness(321.15, 0.25) < 1.0
