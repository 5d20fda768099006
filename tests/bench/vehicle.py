"""How fast the simulated vehicle settles, against the same model calling CoolProp directly.

The direct one answers every property by `AbstractState` (saturation by temperature or pressure, vapour by
pressure and temperature, the rest by solving), as a model without tables of its own would.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from time import process_time
from typing import Any
from unittest.mock import patch

from CoolProp import CoolProp as CP

from engine.vehicle import circuit, rest
from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE
from engine.vehicle.fluid.table import fluid
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from tests.bench.measure import Line
from tests.engine.vehicle.drawing import FAULTS, situation, vehicle

_STATES, _LIMIT_MS = 600, 2.0  # 2 ms a state are 500 a second


class DirectFluid:
    """The methods of `engine.vehicle.fluid.table.Fluid`, each a call of CoolProp."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.state = CP.AbstractState("HEOS", {"R-134a": "R134a", "R-1234yf": "R1234yf"}[name])
        self.first_k, self.last_k = fluid(name).first_k, fluid(name).last_k

    def _at(self, quality: float, kelvin: float) -> Any:
        self.state.update(CP.QT_INPUTS, quality, min(max(kelvin, self.first_k), self.last_k))
        return self.state

    def pressure(self, kelvin: float) -> float:
        return float(self._at(1.0, kelvin).p())

    def liquid_enthalpy(self, kelvin: float) -> float:
        return float(self._at(0.0, kelvin).hmass())

    def vapour_enthalpy(self, kelvin: float) -> float:
        return float(self._at(1.0, kelvin).hmass())

    def liquid_density(self, kelvin: float) -> float:
        return float(self._at(0.0, kelvin).rhomass())

    def vapour_density(self, kelvin: float) -> float:
        return float(self._at(1.0, kelvin).rhomass())

    def saturation(self, pascal: float) -> float:
        low, high = self.pressure(self.first_k), self.pressure(self.last_k)
        self.state.update(CP.PQ_INPUTS, min(max(pascal, low), high), 1.0)
        return float(self.state.T())

    def _vapour(self, kelvin: float, superheat: float) -> Any:
        pressure = self.pressure(kelvin)
        if superheat < 1e-3:
            return self._at(1.0, kelvin)
        self.state.update(CP.PT_INPUTS, pressure, kelvin + superheat)
        return self.state

    def gain(self, kelvin: float, superheat: float) -> float:
        return float(self._vapour(kelvin, superheat).hmass()) - self.vapour_enthalpy(kelvin)

    def superheat(self, kelvin: float, gain: float) -> float:
        if gain <= 0.0:
            return gain / 900.0
        pressure, enthalpy = self.pressure(kelvin), self.vapour_enthalpy(kelvin) + gain
        self.state.update(CP.HmassP_INPUTS, enthalpy, pressure)
        return float(self.state.T()) - kelvin

    def density(self, kelvin: float, superheat: float) -> float:
        return float(self._vapour(kelvin, superheat).rhomass())

    def entropy(self, kelvin: float, superheat: float) -> float:
        return float(self._vapour(kelvin, superheat).smass())

    def ideal_enthalpy(self, kelvin: float, entropy: float) -> float:
        self.state.update(CP.PSmass_INPUTS, self.pressure(kelvin), entropy)
        return float(self.state.hmass())


def vehicle_speed() -> Iterator[Line]:
    """Milliseconds a settled state: the reference car, and anything drawn with a fault."""
    yield Line(
        "vehicle, healthy reference car",
        _healthy(_STATES),
        "ms a state",
        baseline=_direct(),
        against="the same model calling CoolProp",
        limit=_LIMIT_MS,
    )
    yield Line("vehicle, any car with any fault", _drawn(_STATES), "ms a state", limit=_LIMIT_MS)


def _healthy(count: int) -> float:
    car, draw = reference(), random.Random("bench")
    weather = [
        Situation(
            draw.uniform(285.0, 313.0),
            draw.uniform(0.2, 0.8),
            blower=draw.random(),
            intake=draw.choice(("fresh", "recirculation")),
        )
        for _ in range(count)
    ]
    settle(car, NONE, weather[0])
    begun = process_time()
    for one in weather:
        settle(car, NONE, one)
    return 1e3 * (process_time() - begun) / count


def _direct() -> float:
    direct = {name: DirectFluid(name) for name in ("R-134a", "R-1234yf")}
    with patch.object(circuit, "fluid", direct.__getitem__), patch.object(rest, "fluid", direct.__getitem__):
        return _healthy(_STATES)


def _drawn(count: int) -> float:
    cases = []
    for number in range(count):
        draw = random.Random(f"bench:{number}")
        cases.append((vehicle(draw), FAULTS[draw.choice(list(FAULTS))](draw), situation(draw)))
    begun = process_time()
    for case in cases:
        settle(*case)
    return 1e3 * (process_time() - begun) / count
