"""A vehicle: the true parameters of one car's A/C, healthy. Faults: `fault_effects`. Weather: `situation`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from engine.vehicle.parameter import Parameter, free, listed
from engine.vehicle.parts.cabin import Cabin
from engine.vehicle.parts.circuit import Charge, Lines, Metering
from engine.vehicle.parts.control import Controller, Electrics
from engine.vehicle.parts.exchangers import Condenser, Evaporator
from engine.vehicle.parts.machine import Compressor, ControlValve

__all__ = [
    "MODEL_REFRIGERANTS",
    "Vehicle",
    "fixed_orifice",
    "parameters",
    "reference",
    "with_control",
    "with_orifice",
    "with_refrigerant",
    "with_valve",
]

MODEL_REFRIGERANTS = ("R-134a", "R-1234yf")
"""What the model runs on; R-152a and R-744 have no fleet."""


@dataclass(frozen=True, slots=True)
class Vehicle:
    """One car. Build others with `dataclasses.replace` on it and its parts."""

    refrigerant: str = free("R-134a", "-", "R-134a | R-1234yf", "identity: label")
    compressor: Compressor = field(default_factory=Compressor)
    valve: ControlValve = field(default_factory=ControlValve)
    electrics: Electrics = field(default_factory=Electrics)
    controller: Controller = field(default_factory=Controller)
    condenser: Condenser = field(default_factory=Condenser)
    evaporator: Evaporator = field(default_factory=Evaporator)
    metering: Metering = field(default_factory=Metering)
    lines: Lines = field(default_factory=Lines)
    cabin: Cabin = field(default_factory=Cabin)
    charge: Charge = field(default_factory=Charge)

    @property
    def clutchless(self) -> bool:
        """The shaft turns whenever the engine does."""
        return not self.compressor.clutch

    @property
    def orifice(self) -> bool:
        """Metered by an orifice tube (with accumulator), not by a valve."""
        return self.metering.device == "orifice"


def reference() -> Vehicle:
    """The reference car: R-134a, solenoid-controlled clutchless compressor, expansion valve, receiver."""
    return Vehicle()


def with_refrigerant(car: Vehicle, name: str) -> Vehicle:
    """The same car built for R-1234yf (a wider valve, since more of it has to pass, and suction set points of
    the same evaporating temperatures); R-134a leaves it as it is. Raises ValueError for another
    refrigerant."""
    if name not in MODEL_REFRIGERANTS:
        raise ValueError(f"the vehicle model runs on {' or '.join(MODEL_REFRIGERANTS)}, not {name!r}")
    if name == car.refrigerant:
        return car
    if name == "R-134a":
        raise ValueError("start from an R-134a car to build one for R-1234yf, not the other way round")
    metering, valve, part = car.metering, car.valve, car.controller
    return replace(
        car,
        refrigerant=name,
        metering=replace(metering, area_m2=metering.area_m2 * 1.3, orifice_area_m2=_ORIFICE_M2[name]),
        valve=replace(
            valve,
            suction_at_min_pa=valve.suction_at_min_pa * 1.08,
            suction_at_max_pa=valve.suction_at_max_pa * 1.08,
            internal_suction_pa=valve.internal_suction_pa * 1.08,
            flow_at_max_kg_s=valve.flow_at_max_kg_s * 1.3,
        ),
        controller=replace(
            part, switch_open_pa=part.switch_open_pa * 1.12, switch_close_pa=part.switch_close_pa * 1.09
        ),
    )


def with_valve(car: Vehicle, kind: str) -> Vehicle:
    """The same car with a `suction`, `difference` or `flow` valve, its currents such that a mild day takes
    about the same duty with each (common practice names one duty for all). Raises ValueError for another
    kind."""
    if kind not in _VALVE_CURRENTS:
        raise ValueError(f"a control valve is one of {', '.join(_VALVE_CURRENTS)}, not {kind!r}")
    return replace(car, valve=replace(car.valve, kind=kind, current_min_a=_VALVE_CURRENTS[kind]))


_VALVE_CURRENTS = {"suction": 0.20, "difference": 0.34, "flow": 0.38}
"""Least current in A by kind; our assumption, fitted to the mild day."""


def with_control(car: Vehicle, control: str) -> Vehicle:
    """The same car with a `fixed` compressor cycled by a switch (by pressure with an orifice tube, else by a
    thermostat), or with an `internal` control whose thermostat only guards against icing; both with a clutch.
    Raises ValueError for another control."""
    if control not in ("fixed", "internal"):
        raise ValueError(f"a compressor without a solenoid is fixed or internal, not {control!r}")
    fixed = control == "fixed"
    compressor = replace(car.compressor, control=control, clutch=True)
    if fixed:
        compressor = replace(compressor, displacement_m3=_FIXED_M3, smallest_stroke=1.0)
    switch = "pressure" if fixed and car.orifice else "thermostat"
    return replace(car, compressor=compressor, controller=replace(car.controller, cycling_by=switch))


_FIXED_M3 = 140e-6
"""Swept volume of a fixed compressor, m3; our assumption, less than a variable one's at full stroke."""


def with_orifice(car: Vehicle, accumulator_m3: float = 0.90e-3) -> Vehicle:
    """The same car with an orifice tube, an accumulator (m3, 0 for none) and no receiver."""
    return replace(
        car,
        metering=replace(
            car.metering,
            device="orifice",
            orifice_area_m2=_ORIFICE_M2[car.refrigerant],
            accumulator_m3=accumulator_m3,
        ),
        condenser=replace(car.condenser, receiver_m3=0.0),
    )


_ORIFICE_M2 = {"R-134a": 1.20e-6, "R-1234yf": 1.60e-6}
"""Effective flow area of the tube; fitted to 5 to 12 K of subcooling at the loaded reference state."""


def fixed_orifice() -> Vehicle:
    """Fixed displacement and fixed orifice without accumulator: what the published sign table 2a is about."""
    car = with_orifice(Vehicle(), 0.0)
    return replace(
        car,
        compressor=replace(car.compressor, control="fixed", clutch=True, displacement_m3=130e-6),
        metering=replace(car.metering, orifice_area_m2=0.90e-6),
    )


def parameters(vehicle: Vehicle | None = None) -> tuple[Parameter, ...]:
    """Every free parameter of a vehicle (default: the reference car) with unit, meaning and origin."""
    return tuple(listed(vehicle or reference()))
