"""What each fault does to a vehicle: the physical hooks it sets, by how far it has gone and by how it came
about.

A graded fault has a size 0..1, 1 being the physical limit written beside it (all limits and shares are our
assumption: no published distribution of faults in vehicles was found). `engine.vehicle.faults` finds the size
that goes with a severity. A fault that is there or not draws what is left open from its own chance.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random
from types import MappingProxyType

from engine.vehicle.controller import REASONS
from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import NONE, Effects

__all__ = ["GRADED", "ICING_CAUSES", "SWITCHED", "WAYS", "WAYS_OF", "Graded"]

Build = Callable[[Vehicle, float, str], Effects]
Switch = Callable[[str, Random], Effects]

ICING_CAUSES = ("stroke-valve-stuck-high", "sensor-misreads", "evaporator-airflow")

WAYS_OF: Mapping[str, Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "fixed": {"evaporator-icing": ("cycling-switch-late", "evaporator-airflow")},
        "internal": {"evaporator-icing": ("stroke-valve-stuck-high", "evaporator-airflow")},
    }
)
"""Where a fault comes about in other ways than `WAYS` says: by the control of the compressor."""

WAYS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "sensor-misreads": (
            "coil-cold",
            "coil-cold",
            "coil-warm",
            "pressure-high",
            "pressure-low",
            "ambient-cold",
        ),
        "condenser-airflow": ("face", "face", "fan", "fan", "baffles"),
        "liquid-restriction": ("drier", "liquid-line"),
        "evaporator-airflow": ("filter", "filter", "blower", "coil-face"),
        "evaporator-icing": ICING_CAUSES,
        "air-distribution": ("left", "right", "both", "left-doors", "right-doors"),
        "solenoid-shorted": ("turns", "turns", "case"),
        "solenoid-circuit": ("supply", "supply", "resistance", "stuck-on"),
        "command-withheld": ("request", "low-charge-code", *REASONS),
        "drive-broken": ("hub", "hub", "hub", "belt"),
        "clutch-circuit": ("coil", "wire", "wire", "gap"),
        "contaminated-refrigerant": ("hydrocarbon", "other-refrigerant", "sealant"),
        "compressor-damaged": ("noise", "noise", "noise-metal", "noise-metal", "locked"),
        "clutch-slips": ("gap", "gap", "face"),
        "cut-out-switch-open": ("low", "low", "high"),
    }
)
"""How a fault may have come about; named twice = twice as likely. Our assumption."""


@dataclass(frozen=True, slots=True)
class Graded:
    """`build(vehicle, size, way)`. `judged` is what severity counts: coil (heat taken up), vents (cold that
    arrives), or none (severity is the share of the limit). `limit` says what size 1 is."""

    build: Build
    judged: str
    limit: str


def _weak(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(leak_area_m2=15e-6 * size**2)


def _stuck_low(vehicle: Vehicle, size: float, _: str) -> Effects:
    return Effects(stroke_high=math.exp(size * math.log(vehicle.compressor.smallest_stroke)))


def _stuck_high(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(stroke_low=0.10 + 0.85 * size)


def _sensor(_: Vehicle, size: float, way: str) -> Effects:
    return {
        "coil-cold": Effects(evaporator_sensor_k=-15.0 * size),
        "coil-warm": Effects(evaporator_sensor_k=12.0 * size),
        "pressure-high": Effects(pressure_sensor_pa=1.2e6 * size),
        "pressure-low": Effects(pressure_sensor_pa=-1.0e6 * size),
        "ambient-cold": Effects(ambient_sensor_k=-35.0 * size),
    }[way]


def _slips(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(drive_slip=0.9 * size)


def _clutch_slips(_: Vehicle, size: float, way: str) -> Effects:
    return Effects(drive_slip=0.9 * size, clutch_gap_wide=way == "gap")


def _switch_late(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(cycling_switch_k=-14.0 * size)


def _switch_early(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(cycling_switch_k=9.0 * size)


def _undercharge(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(charge_factor=1.0 - 0.88 * size)


def _overcharge(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(charge_factor=1.0 + 1.2 * size)


def _air(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(air_kg=0.12 * size**1.5)


def _moisture(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(moisture_ice=0.99 * size)


def _oil(_: Vehicle, size: float, __: str) -> Effects:
    """Walls, room and cylinders, all by the amount of oil (`engine.vehicle.oil`)."""
    return Effects(oil_factor=1.0 + 4.0 * size)


def _condenser_air(_: Vehicle, size: float, way: str) -> Effects:
    if way == "fan":
        return Effects(condenser_fan=1.0 - size)
    if way == "face":
        return Effects(condenser_airflow=1.0 - 0.95 * size)
    return Effects(hot_air_share=0.6 * size)


def _condenser_inside(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(condenser_area=1.0 - 0.9 * size, condenser_resistance=4e9 * size**3)


def _liquid(_: Vehicle, size: float, way: str) -> Effects:
    return Effects(liquid_resistance=2e10 * size**4, liquid_restriction_at=way)


def _suction(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(suction_resistance=2e9 * size**3)


def _valve_shut(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(opening_high=math.exp(size * math.log(0.02)))


def _valve_open(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(opening_low=size)


def _little_air(_: Vehicle, size: float, __: str) -> Effects:
    return Effects(evaporator_airflow=1.0 - 0.9 * size)


def _icing(vehicle: Vehicle, size: float, way: str) -> Effects:
    frost = 0.95 * vehicle.evaporator.frost_closes_m * size
    if way == "stroke-valve-stuck-high":
        return Effects(frost_m=frost, stroke_low=0.4 + 0.5 * size, icing_cause=way)
    if way == "cycling-switch-late":
        return Effects(frost_m=frost, cycling_switch_k=-6.0 - 8.0 * size, icing_cause=way)
    if way == "sensor-misreads":
        return Effects(frost_m=frost, evaporator_sensor_k=5.0 + 5.0 * size, icing_cause=way)
    return Effects(frost_m=frost, evaporator_airflow=0.75 - 0.25 * size, icing_cause=way)


def _warm_vents(_: Vehicle, size: float, way: str) -> Effects:
    left = 0.0 if way.startswith("right") else 0.8 * size
    right = 0.0 if way.startswith("left") else 0.8 * size
    return Effects(blend_leak_left=left, blend_leak_right=right, doors_follow=not way.endswith("doors"))


GRADED: Mapping[str, Graded] = MappingProxyType(
    {
        "weak-compressor": Graded(_weak, "coil", "leak of 15 mm2 inside the pump"),
        "stroke-valve-stuck-low": Graded(_stuck_low, "coil", "stuck at the smallest stroke"),
        "stroke-valve-stuck-high": Graded(_stuck_high, "none", "stuck at 95 % stroke; cools all too well"),
        "sensor-misreads": Graded(
            _sensor,
            "none",
            "coil 15 K cold or 12 K warm, pressure 1.2 MPa high or 1.0 MPa low, ambient 35 K cold",
        ),
        "drive-slips": Graded(_slips, "coil", "90 % of speed lost at 20 N m"),
        "undercharge": Graded(_undercharge, "coil", "12 % of the charge left; less is system-empty"),
        "overcharge": Graded(_overcharge, "coil", "2.2 times the charge"),
        "air-in-system": Graded(_air, "coil", "120 g of air, an evacuation left out altogether"),
        "moisture-freezing": Graded(_moisture, "coil", "99 % of the opening frozen over"),
        "oil-excess": Graded(_oil, "coil", "five times the oil"),
        "condenser-airflow": Graded(
            _condenser_air, "coil", "5 % of the face open, fan stopped, or 60 % hot air round the sides"
        ),
        "condenser-restricted": Graded(_condenser_inside, "coil", "a tenth of the tubes left"),
        "liquid-restriction": Graded(_liquid, "coil", "closed but for 2e10 Pa/(kg/s)2"),
        "suction-restriction": Graded(_suction, "coil", "closed but for 2e9 Pa/(kg/s)2"),
        "expansion-valve-restricted": Graded(_valve_shut, "coil", "2 % of the opening left"),
        "expansion-valve-stuck-open": Graded(_valve_open, "coil", "stuck fully open"),
        "evaporator-airflow": Graded(_little_air, "coil", "a tenth of the air left"),
        "evaporator-icing": Graded(_icing, "coil", "95 % of the thickness that closes the fins"),
        "clutch-slips": Graded(_clutch_slips, "coil", "90 % of speed lost at 20 N m"),
        "cycling-switch-late": Graded(_switch_late, "none", "opens 14 K too cold, if it ever gets there"),
        "cycling-switch-early": Graded(_switch_early, "none", "opens 9 K too warm"),
        "air-distribution": Graded(_warm_vents, "vents", "80 % of a side's air past the heater core"),
    }
)


def _shorted(way: str, _: Random) -> Effects:
    return Effects(coil_to_case=True) if way == "case" else Effects(coil_shorted=True)


def _circuit(way: str, chance: Random) -> Effects:
    if way == "resistance":
        return Effects(circuit_ohm=chance.uniform(30.0, 150.0))
    return Effects(driver_stuck_on=True) if way == "stuck-on" else Effects(supply_lost=True)


def _contaminated(way: str, chance: Random) -> Effects:
    if way == "sealant":
        return NONE
    if way == "hydrocarbon":
        return Effects(saturation_factor=chance.uniform(1.08, 1.40))
    return Effects(saturation_factor=chance.choice((chance.uniform(0.75, 0.93), chance.uniform(1.07, 1.25))))


def _damaged(way: str, chance: Random) -> Effects:
    if way == "locked":
        return Effects(shaft_locked=True, metal_in_oil=True)
    return Effects(
        noisy=True,
        metal_in_oil=way == "noise-metal",
        displacement_factor=chance.uniform(0.5, 1.0),
        friction_factor=chance.uniform(1.5, 3.0),
    )


SWITCHED: Mapping[str, Switch] = MappingProxyType(
    {
        "compressor-damaged": _damaged,
        "solenoid-open": lambda _, __: Effects(coil_open=True),
        "solenoid-shorted": _shorted,
        "solenoid-circuit": _circuit,
        "command-withheld": lambda way, _: Effects(command_withheld=way),
        "drive-broken": lambda _, __: Effects(drive_broken=True),
        "clutch-circuit": lambda way, __: Effects(clutch_open=True, clutch_gap_wide=way == "gap"),
        "cut-out-switch-open": lambda _, __: Effects(command_withheld="pressure"),
        "system-empty": lambda _, chance: Effects(charge_factor=chance.uniform(0.0, 0.03)),
        "contaminated-refrigerant": _contaminated,
    }
)
"""Faults that are there or not."""
