"""Fleets: vehicles drawn by number from stated distributions.

Vehicle i of a seed comes from Random(f"{seed}:{i}"), so it is the same in any process. `FLEET` spreads the
reference car; `SHIFTED` moves the centres of the same spreads by what another make could differ, so that a
flow tuned on the first is judged on cars it has not met. Every distribution is our assumption, except where
a figure names its source: no published survey of such parameters was found.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from random import Random
from types import MappingProxyType
from typing import Any

from engine.vehicle.design import Vehicle, reference, with_control, with_orifice, with_refrigerant, with_valve
from engine.vehicle.labelling import labelled
from engine.vehicle.shop import EQUIPPED, MODEST, Shop, Shops
from engine.vehicle.weather import Weather, draw_weather

__all__ = ["FLEET", "FLEETS", "SHIFTED", "Drawn", "Fleet", "Spread", "fleet_named", "fleets_of"]

_VALVE_ONLY = frozenset({"expansion-valve-stuck-open"})
_CLUTCH_ONLY = frozenset({"clutch-circuit"})


@dataclass(frozen=True, slots=True)
class Spread:
    """A parameter drawn evenly between two factors on (or, `added`, offsets to) the reference car's value."""

    path: str
    low: float
    high: float
    added: bool = False

    def of(self, value: float, chance: Random) -> float:
        drawn = chance.uniform(self.low, self.high)
        return value + drawn if self.added else value * drawn


_SPREADS = (
    Spread("compressor.displacement_m3", 0.92, 1.10),
    Spread("compressor.smallest_stroke", 0.8, 1.6),
    Spread("compressor.pulley_ratio", 0.92, 1.12),
    Spread("compressor.isentropic", 0.96, 1.04),
    Spread("compressor.leak_area_m2", 0.5, 2.0),
    Spread("valve.current_min_a", -0.03, 0.03, added=True),
    Spread("valve.current_max_a", 0.95, 1.05),
    Spread("electrics.coil_ohm_20", 0.955, 1.045),  # source: 10.1-11.1 ohm (references.md section 5)
    Spread("electrics.supply_v", 0.97, 1.04),
    Spread("electrics.wiring_ohm", 0.6, 2.0),
    Spread("electrics.coil_over_ambient_k", 0.7, 1.3),
    Spread("controller.target_hot_k", -0.5, 2.0, added=True),  # source: 3-8 degC (references.md section 5)
    Spread("controller.target_mild_k", -2.0, 0.0, added=True),
    Spread("controller.back_off_pa", 0.97, 1.03),
    Spread("condenser.conductance_w_k", 0.90, 1.15),
    Spread("condenser.fan_low_kg_s", 0.85, 1.25),
    Spread("condenser.fan_high_kg_s", 0.90, 1.20),
    Spread("condenser.recirculated_share", 0.6, 1.2),
    Spread("condenser.volume_m3", 0.85, 1.20),
    Spread("condenser.receiver_m3", 0.85, 1.25),
    Spread("evaporator.air_conductance_w_k", 0.90, 1.15),
    Spread("evaporator.air_max_kg_s", 0.88, 1.12),
    Spread("evaporator.air_min_share", 0.85, 1.2),
    Spread("evaporator.volume_m3", 0.85, 1.2),
    Spread("metering.superheat_k", -1.5, 2.0, added=True),  # source: 8-12 degF (references.md section 2b)
    Spread("metering.area_m2", 0.9, 1.15),
    Spread("metering.orifice_area_m2", 0.93, 1.07),
    Spread("lines.suction_loss", 0.7, 1.4),
    Spread("lines.suction_gain_w_k", 0.6, 1.4),
    Spread("lines.liquid_loss", 0.6, 1.4),
    Spread("lines.liquid_gain_w_k", 0.6, 1.4),
    Spread("lines.bay_over_ambient_k", 0.7, 1.3),
    Spread("cabin.gain_w_k", 0.75, 1.3),
    Spread("cabin.capacity_j_k", 0.7, 1.4),
    Spread("cabin.fresh_over_ambient_k", 0.3, 1.7),
    Spread("cabin.blend_leak", 0.3, 2.0),
    Spread("cabin.split_k", 0.0, 2.5),
)

_SHIFTS: Mapping[str, float] = MappingProxyType(
    {
        "compressor.displacement_m3": 0.95,
        "compressor.isentropic": 0.97,
        "condenser.conductance_w_k": 0.94,
        "condenser.fan_high_kg_s": 1.06,
        "condenser.recirculated_share": 1.15,
        "evaporator.air_conductance_w_k": 1.05,
        "evaporator.air_max_kg_s": 0.95,
        "lines.suction_loss": 1.25,
        "lines.suction_gain_w_k": 1.25,
        "valve.current_max_a": 0.96,
        "cabin.gain_w_k": 1.2,
        "metering.area_m2": 1.05,
    }
)


_SWITCHES = (
    Spread("valve.internal_suction_pa", 0.95, 1.07),
    Spread("controller.switch_open_pa", 0.90, 1.12),
    Spread("controller.switch_close_pa", 0.95, 1.08),
    Spread("controller.thermostat_open_k", -0.5, 1.0, added=True),
    Spread("controller.thermostat_band_k", -0.8, 1.0, added=True),
)
"""What cars without a stroke solenoid have beside; drawn last, so that the figures before are those of the
car with a solenoid of the same number."""


def _shifted(spreads: tuple[Spread, ...] = _SPREADS) -> tuple[Spread, ...]:
    return tuple(
        one if one.added else replace(one, low=one.low * by, high=one.high * by)
        for one in spreads
        for by in (_SHIFTS.get(one.path, 1.0),)
    )


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sound vehicle with the day, the place and the shop it is examined in."""

    vehicle: Vehicle
    weather: Weather
    shop: Shop


@dataclass(frozen=True, slots=True)
class Fleet:
    """Chances of kinds, and spreads of figures. `valves` are chances of suction, difference and flow
    valves.
    """

    name: str
    spreads: tuple[Spread, ...] = _SPREADS
    r1234yf: float = 0.5
    orifice: float = 0.2
    clutch: float = 0.35
    valves: tuple[float, float, float] = (0.5, 0.3, 0.2)
    exchanger_r134a: float = 0.1
    exchanger_r1234yf: float = 0.5
    supply_switched: float = 0.35
    one_wire: float = 0.1
    duty_regulated: float = 0.25
    filled: tuple[float, float] = (0.95, 1.04)
    """Charge of a sound car over its label: loss of some grams a year, and the filling machine's
    tolerance.
    """
    shops: Shops = EQUIPPED
    control: str = "solenoid"
    """Of the compressor: solenoid, internal or fixed. Only the first may be without a clutch."""

    def vehicle(self, seed: int, index: int, faults: Collection[str] = (), refrigerant: str = "") -> Vehicle:
        """Sound vehicle `index` of `seed`, of a kind that can have these faults; `refrigerant` if one is
        asked.
        """
        chance = Random(f"{seed}:{index}")
        drawn = "R-1234yf" if chance.random() < self.r1234yf else "R-134a"
        car = with_refrigerant(reference(), refrigerant or drawn)
        car = with_valve(car, chance.choices(("suction", "difference", "flow"), self.valves)[0])
        if chance.random() < self.orifice and not _VALVE_ONLY & set(faults):
            car = with_orifice(car)
        clutch = chance.random() < self.clutch or bool(_CLUTCH_ONLY & set(faults))
        fitted = self.exchanger_r134a if car.refrigerant == "R-134a" else self.exchanger_r1234yf
        exchanger = chance.random() < fitted and not car.orifice
        effectiveness = chance.uniform(0.3, 0.5)  # of those fitted (design.parts.circuit)
        electrics = replace(
            car.electrics,
            switched_side="supply" if chance.random() < self.supply_switched else "ground",
            two_wire=chance.random() >= self.one_wire,
            regulation="duty" if chance.random() < self.duty_regulated else "current",
            frequency_hz=chance.choice((400.0, 400.0, 500.0)),  # source: references.md section 5
        )
        car = replace(
            car,
            compressor=replace(car.compressor, clutch=clutch),
            electrics=electrics,
            lines=replace(car.lines, exchanger_effectiveness=effectiveness if exchanger else 0.0),
        )
        if self.control != "solenoid":
            car = with_control(car, self.control)
        car = labelled(_spread(car, self.spreads, chance))
        return replace(car, charge=replace(car.charge, filled=chance.uniform(*self.filled)))

    def draw(
        self,
        seed: int,
        index: int,
        faults: Collection[str] = (),
        ambient: tuple[float, float] | None = None,
        refrigerant: str = "",
    ) -> Drawn:
        """The vehicle with its day and shop; `ambient` in K."""
        vehicle = self.vehicle(seed, index, faults, refrigerant)
        weather = draw_weather(Random(f"{seed}:{index}:weather"), ambient)
        return Drawn(vehicle, weather, self.shops.draw(Random(f"{seed}:{index}:shop")))


def _spread(car: Vehicle, spreads: tuple[Spread, ...], chance: Random) -> Vehicle:
    """Draws in the order of the list, whatever the kind of car, so that kinds do not change the figures."""
    changed: dict[str, dict[str, Any]] = {}
    for one in spreads:
        part, name = one.path.split(".")
        changed.setdefault(part, {})[name] = one.of(getattr(getattr(car, part), name), chance)
    parts = {part: replace(getattr(car, part), **values) for part, values in changed.items()}
    return replace(car, **parts)


FLEET = Fleet("fleet")
SHIFTED = Fleet(
    "shifted", _shifted(), r1234yf=0.6, orifice=0.15, clutch=0.45, valves=(0.35, 0.4, 0.25), shops=MODEST
)
FLEETS: Mapping[str, Fleet] = MappingProxyType({one.name: one for one in (FLEET, SHIFTED)})
"""By name, the one to be trained on first."""

_FIXED = Fleet("fixed", (*_SPREADS, *_SWITCHES), r1234yf=0.25, orifice=0.5, control="fixed")
_INTERNAL = Fleet("internal", (*_SPREADS, *_SWITCHES), r1234yf=0.35, control="internal")


def _twin(fleet: Fleet) -> Fleet:
    """The fleet shifted as `SHIFTED` is: fewer of the usual kind, and the shops that have less."""
    return replace(
        fleet,
        name=f"{fleet.name}-shifted",
        spreads=_shifted(fleet.spreads),
        r1234yf=fleet.r1234yf + 0.1,
        orifice=fleet.orifice - 0.05,
        shops=MODEST,
    )


_BY_CONTROL: Mapping[str, tuple[Fleet, Fleet]] = MappingProxyType(
    {
        "solenoid": (FLEET, SHIFTED),
        "internal": (_INTERNAL, _twin(_INTERNAL)),
        "fixed": (_FIXED, _twin(_FIXED)),
    }
)


def fleets_of(control: str) -> tuple[str, ...]:
    """Names of the fleets of cars with such a compressor, the one to be trained on first."""
    return tuple(fleet.name for fleet in _BY_CONTROL[control])


def fleet_named(name: str) -> Fleet:
    """Any of them. Raises KeyError."""
    return {fleet.name: fleet for pair in _BY_CONTROL.values() for fleet in pair}[name]
