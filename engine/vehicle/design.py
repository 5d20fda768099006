"""A vehicle: the true parameters of one car's A/C, healthy. Faults: `fault_effects`. Weather: `situation`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from engine.vehicle.parameter import Parameter, free, listed
from engine.vehicle.parts.cabin import Cabin
from engine.vehicle.parts.circuit import Charge, Lines, Metering
from engine.vehicle.parts.control import Controller, Electrics
from engine.vehicle.parts.exchangers import Condenser, Evaporator
from engine.vehicle.parts.machine import Compressor, ControlValve

__all__ = ["MODEL_REFRIGERANTS", "Vehicle", "fixed_orifice", "parameters", "reference"]

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


def fixed_orifice() -> Vehicle:
    """Fixed displacement and fixed orifice without accumulator: what the published sign table 2a is about."""
    car = Vehicle()
    return replace(
        car,
        compressor=replace(car.compressor, control="fixed", clutch=True, displacement_m3=130e-6),
        metering=replace(car.metering, device="orifice", accumulator_m3=0.0),
        condenser=replace(car.condenser, receiver_m3=0.0),
    )


def parameters(vehicle: Vehicle | None = None) -> tuple[Parameter, ...]:
    """Every free parameter of a vehicle (default: the reference car) with unit, meaning and origin."""
    return tuple(listed(vehicle or reference()))
