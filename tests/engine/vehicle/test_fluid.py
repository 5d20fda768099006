"""The solver's property tables against the reference equations of state (0.05 K, 0.2 %), and that they are
current.

Vapour density, enthalpy and entropy by superheat are used on the low side only, so they are judged up to 60
degC
of saturation; what the high side uses (saturation, liquid, ideal compression, superheat of a discharge) up to
2 K below the end of the table.
"""

from __future__ import annotations

import random
from typing import Any

import pytest
from CoolProp import CoolProp as CP

from engine.vehicle.fluid.make_tables import stale
from engine.vehicle.fluid.table import FLUIDS, Fluid, fluid

NAMES = {"R-134a": "R134a", "R-1234yf": "R1234yf"}
KELVIN, RELATIVE = 0.05, 2e-3


@pytest.fixture(params=FLUIDS)
def pair(request: pytest.FixtureRequest) -> tuple[Fluid, Any]:
    return fluid(request.param), CP.AbstractState("HEOS", NAMES[request.param])


def test_the_shipped_tables_are_current() -> None:
    assert stale() == []


def test_the_saturation_line(pair: tuple[Fluid, Any]) -> None:
    table, state = pair
    for kelvin in _evenly(218.0, table.last_k - 2.0, 300):
        state.update(CP.QT_INPUTS, 0.0, kelvin)
        pressure, latent_from = state.p(), state.hmass()
        assert table.pressure(kelvin) == pytest.approx(pressure, rel=RELATIVE)
        assert table.saturation(pressure) == pytest.approx(kelvin, abs=KELVIN)
        assert table.liquid_density(kelvin) == pytest.approx(state.rhomass(), rel=RELATIVE)
        state.update(CP.QT_INPUTS, 1.0, kelvin)
        assert table.vapour_density(kelvin) == pytest.approx(state.rhomass(), rel=RELATIVE)
        latent = state.hmass() - latent_from
        found = table.vapour_enthalpy(kelvin) - table.liquid_enthalpy(kelvin)
        assert found == pytest.approx(latent, rel=RELATIVE)


def test_vapour_on_the_low_side(pair: tuple[Fluid, Any]) -> None:
    table, state = pair
    draw = random.Random("low side")
    for _ in range(600):
        kelvin, superheat = draw.uniform(218.0, 333.0), draw.uniform(0.2, 70.0)
        state.update(CP.QT_INPUTS, 1.0, kelvin)
        pressure, saturated_h, saturated_s = state.p(), state.hmass(), state.smass()
        state.update(CP.PT_INPUTS, pressure, kelvin + superheat)
        gain = state.hmass() - saturated_h
        assert table.gain(kelvin, superheat) == pytest.approx(gain, rel=RELATIVE, abs=KELVIN * 1e3)
        assert table.superheat(kelvin, gain) == pytest.approx(superheat, abs=KELVIN)
        assert table.density(kelvin, superheat) == pytest.approx(state.rhomass(), rel=RELATIVE)
        rise = state.smass() - saturated_s
        own = table.entropy(kelvin, superheat) - table.entropy(kelvin, 0.0)
        assert own == pytest.approx(rise, rel=RELATIVE, abs=KELVIN * 1e3 / kelvin)


def test_compression_without_loss(pair: tuple[Fluid, Any]) -> None:
    """From a suction state to a discharge pressure: the work, and the temperature it ends at."""
    table, state = pair
    draw = random.Random("compression")
    for _ in range(300):
        low, superheat = draw.uniform(255.0, 290.0), draw.uniform(0.5, 30.0)
        high = draw.uniform(low + 10.0, table.last_k - 3.0)
        state.update(CP.QT_INPUTS, 1.0, low)
        state.update(CP.PT_INPUTS, state.p(), low + superheat)
        start_h, entropy = state.hmass(), state.smass()
        state.update(CP.QT_INPUTS, 1.0, high)
        state.update(CP.PSmass_INPUTS, state.p(), entropy)
        work = state.hmass() - start_h
        ends_k = state.T()
        found_h = table.ideal_enthalpy(high, table.entropy(low, superheat))
        start = table.vapour_enthalpy(low) + table.gain(low, superheat)
        assert found_h - start == pytest.approx(work, rel=RELATIVE, abs=60.0)
        above = table.superheat(high, found_h - table.vapour_enthalpy(high))
        assert high + max(above, 0.0) == pytest.approx(ends_k, abs=KELVIN)


def test_another_refrigerant_is_named_in_the_error() -> None:
    with pytest.raises(KeyError, match="R-744"):
        fluid("R-744")


def _evenly(first: float, last: float, count: int) -> list[float]:
    return [first + (last - first) * i / (count - 1) for i in range(count)]
