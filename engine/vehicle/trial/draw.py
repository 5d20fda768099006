"""The simulated vehicles that a trial tries a flow on."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from engine.vehicle.bench import Bench
from engine.vehicle.design import MODEL_REFRIGERANTS, Vehicle
from engine.vehicle.faults import Injury, faults_of, injure, together
from engine.vehicle.finer import fault_of, finer_names
from engine.vehicle.fleet import Drawn, fleet_named, fleets_of
from engine.vehicle.technician import Technician
from engine.vehicle.trial.case import Ask, Case, Fault

__all__ = ["FleetDrawer"]


@dataclass(frozen=True, slots=True)
class FleetDrawer:
    """Cases from `engine.vehicle.fleet`: cars whose compressor is controlled as `vehicles` says, one of
    `engine.flow.model.VEHICLES`.
    """

    vehicles: str = "solenoid"

    def fleets(self) -> tuple[str, ...]:
        """The one to be trained on first."""
        return fleets_of(self.vehicles)

    def faults(self) -> Mapping[str, bool]:
        """Every fault of these cars by its finding, and whether it has a severity."""
        return faults_of(self.vehicles)

    def refrigerants(self) -> tuple[str, ...]:
        return MODEL_REFRIGERANTS

    def together(self, one: str, other: str) -> bool:
        """Whether a vehicle can have both faults at once."""
        return together(one, other)

    def draw(self, ask: Ask) -> Case:
        """The vehicle asked for: the same for the same `ask`, in any process."""
        findings = [fault.finding for fault in ask.faults]
        ambient = (ask.ambient.low, ask.ambient.high) if ask.ambient else None
        meant = [fault_of(finding) for finding in findings]
        drawn = fleet_named(ask.fleet).draw(ask.seed, ask.index, meant, ambient, ask.refrigerant or "")
        injuries = tuple(_injured(ask, drawn, fault) for fault in ask.faults)
        faults = tuple(_told(finding, one) for finding, one in zip(findings, injuries, strict=True))

        def technician(left: tuple[Fault, ...]) -> Technician:
            names = {fault_of(fault.finding) for fault in left}
            kept = tuple(one for one in injuries if one.finding in names)
            key = f"{ask.fleet}:{ask.seed}:{ask.index}"
            return Technician(Bench(key, drawn.vehicle, kept, drawn.weather, drawn.shop), ask.skipped)

        return Case(ask, faults, technician, _about(drawn, injuries))


def _told(finding: str, injury: Injury) -> Fault:
    """The fault under the name it was asked by; finer names of how it came about are as right."""
    finer = finer_names(injury.finding, injury.way) if finding == injury.finding else frozenset[str]()
    return Fault(finding, injury.severity, injury.causes, finer)


def _injured(ask: Ask, drawn: Drawn, fault: Fault) -> Injury:
    chance = Random(f"{ask.seed}:{ask.index}:fault:{fault.finding}")
    return injure(drawn.vehicle, fault.finding, fault.severity, chance)


def _control(car: Vehicle) -> dict[str, str]:
    control = car.compressor.control
    if control == "solenoid":
        return {"valve": car.valve.kind}
    return {"compressor": control, "switch": car.controller.cycling_by}


def _about(drawn: Drawn, injuries: tuple[Injury, ...]) -> dict[str, str]:
    car, weather = drawn.vehicle, drawn.weather
    told = {
        "refrigerant": car.refrigerant,
        **_control(car),
        "expansion device": "orifice tube" if car.orifice else "expansion valve",
        "clutch": "no clutch" if car.clutchless else "clutch",
        "ambient": f"{weather.ambient_k - 273.15:.0f} degC, {weather.relative_humidity * 100.0:.0f} %",
        "elevation": f"{math.floor(weather.elevation_m / 100.0 + 0.5) * 100} m",
    }
    for one in injuries:
        if one.way:
            told[f"how {one.finding}"] = one.way
    return told
