"""Metering device, lines and charge as physical parameters, SI units.

These are true values: what a technician sees of them is `engine.vehicle.instruments`. Degradation is never
written here but in `engine.vehicle.fault_effects.Effects`. In the origins "RR" is shared/references.md; "fit:
4a" a fit to its running chart (one R-134a car, idle, maximum cold), "fit: mild day" one to the common
practice of issue 3 section 2 (no published source).
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.parameter import free


@dataclass(frozen=True, slots=True)
class Metering:
    """Expansion valve or orifice tube with accumulator."""

    device: str = free("valve", "-", "valve | orifice", "identity: expansion_device of the flow")
    superheat_k: float = free(6.0, "K", "superheat the valve holds", "assumption: 5-8 K; RR 2b 8-12 degF")
    area_m2: float = free(
        1.6e-6,
        "m2",
        "effective flow area of the valve fully open",
        "assumption: twice the largest need of the reference car",
    )
    opening_min: float = free(0.0, "-", "smallest opening of a sound valve", "assumption")
    orifice_area_m2: float = free(
        0.80e-6,
        "m2",
        "effective flow area of an orifice tube",
        "fit: superheat 5-10 K without, wet with accumulator",
    )
    choke: float = free(
        0.62,
        "-",
        "pressure at which flow in an orifice tube chokes, over saturation of its liquid",
        "assumption: short-tube behaviour",
    )
    accumulator_m3: float = free(
        0.0, "m3", "volume of the accumulator (0 with a valve)", "assumption: 0.9 litres where fitted"
    )
    accumulator_wetness: float = free(
        0.04, "-", "liquid share in the suction of a full accumulator", "assumption: oil bleed hole"
    )


@dataclass(frozen=True, slots=True)
class Lines:
    """Pipes between the parts."""

    suction_loss: float = free(
        1.5e7,
        "Pa/(kg/s)2 at 10 kg/m3",
        "loss from evaporator to compressor, scaled with 1/density",
        "fit: 4a; about 25 kPa at full flow",
    )
    liquid_loss: float = free(
        3.0e7, "Pa/(kg/s)2", "loss of the liquid line", "assumption: about 50 kPa at full flow"
    )
    suction_gain_w_k: float = free(1.6, "W/K", "heat from the bay into the suction line", "assumption")
    liquid_gain_w_k: float = free(
        0.8, "W/K", "heat from the bay into the liquid line (or out of it)", "assumption"
    )
    exchanger_effectiveness: float = free(
        0.0, "-", "internal heat exchanger, 0 = none", "assumption: 0.3-0.5 where fitted"
    )
    bay_over_ambient_k: float = free(12.0, "K", "bay over ambient, bonnet open, engine running", "assumption")
    bay_closed_over_ambient_k: float = free(28.0, "K", "the same, bonnet closed", "assumption")
    high_volume_m3: float = free(
        0.25e-3, "m3", "vapour volume on the high side beside the condenser", "assumption"
    )
    low_volume_m3: float = free(
        0.60e-3, "m3", "vapour volume on the low side beside the evaporator", "assumption"
    )
    liquid_volume_m3: float = free(0.08e-3, "m3", "volume of the liquid line", "assumption")


@dataclass(frozen=True, slots=True)
class Charge:
    """Label, and what is filled by whom."""

    label_kg: float = free(
        0.640, "kg", "charge on the label", "fit: labelling.py, receiver 55 % full at the loaded reference"
    )
    filled: float = free(
        1.0, "-", "true charge over label of the sound car", "assumption: filling tolerance is the fleet's"
    )
    oil_kg: float = free(0.13, "kg", "oil", "assumption: 120-150 g")
