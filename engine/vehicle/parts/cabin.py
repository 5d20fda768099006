"""Cabin, intake and ducts as physical parameters, SI units.

These are true values: what a technician sees of them is `engine.vehicle.instruments`. Degradation is never
written here but in `engine.vehicle.fault_effects.Effects`. In the origins "RR" is shared/references.md; "fit:
4a" a fit to its running chart (one R-134a car, idle, maximum cold), "fit: mild day" one to the common
practice of issue 3 section 2 (no published source).
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.parameter import free


@dataclass(frozen=True, slots=True)
class Cabin:
    """Air into the blower, and from the coil to the vents."""

    gain_w_k: float = free(
        55.0, "W/K", "heat into the shut cabin per kelvin below ambient", "assumption: shut, standing"
    )
    gain_windows_w_k: float = free(500.0, "W/K", "the same, windows open", "fit: 4a")
    sun_w: float = free(150.0, "W", "steady gain (people, sun in a shop)", "assumption: indoors or shade")
    capacity_j_k: float = free(
        14e3, "J/K", "heat capacity that follows in minutes (air and near surfaces)", "assumption"
    )
    infiltration_kg_s: float = free(0.010, "kg/s", "outside air that leaks into the shut cabin", "assumption")
    infiltration_windows_kg_s: float = free(0.2, "kg/s", "the same, windows open", "assumption")
    air_mass_kg: float = free(3.5, "kg", "air in the cabin", "source: about 3 m3")
    fresh_over_ambient_k: float = free(
        2.0,
        "K",
        "fresh air over ambient at the cowl, engine running and standing",
        "assumption: warmed by the bay",
    )
    recirculated_share: float = free(
        0.9, "-", "cabin air in the intake on recirculation", "assumption: the door leaks"
    )
    duct_gain_w_k: float = free(5.0, "W/K", "heat into the duct after the coil", "assumption")
    duct_gain_k: float = free(0.4, "K", "warming by blower motor and case whatever the flow", "assumption")
    blend_leak: float = free(
        0.01,
        "-",
        "share of the air that passes the heater core with the door at cold",
        "assumption: foam seals",
    )
    heater_k: float = free(353.15, "K", "heater core, engine warm", "assumption: 80 degC")
    split_k: float = free(0.4, "K", "left vent over right vent in a sound car", "assumption")
