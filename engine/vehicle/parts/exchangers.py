"""Condenser and evaporator as physical parameters, SI units.

These are true values: what a technician sees of them is `engine.vehicle.instruments`. Degradation is never
written here but in `engine.vehicle.fault_effects.Effects`. In the origins "RR" is shared/references.md; "fit:
4a" a fit to its running chart (one R-134a car, idle, maximum cold), "fit: mild day" one to the common
practice of issue 3 section 2 (no published source).
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.parameter import free


@dataclass(frozen=True, slots=True)
class Condenser:
    """Parallel-flow condenser with receiver; fan and ram air."""

    conductance_w_k: float = free(750.0, "W/K", "UA at the reference air flow", "fit: 4a")
    conductance_power: float = free(0.55, "-", "growth of UA with air flow", "assumption: louvred fins")
    reference_air_kg_s: float = free(
        0.60, "kg/s", "air flow that goes with conductance_w_k", "assumption: about 1800 m3/h"
    )
    fan_low_kg_s: float = free(
        0.28, "kg/s", "air the fan moves at low speed, standing", "fit: 4a and mild day"
    )
    fan_high_kg_s: float = free(0.52, "kg/s", "air the fan moves at high speed, standing", "fit: 4a")
    fan_ramp_from_pa: float = free(
        1.1e6,
        "Pa gauge",
        "high side from which the fan leaves low speed",
        "assumption: usual two-stage or ramped fan",
    )
    fan_ramp_to_pa: float = free(
        1.7e6,
        "Pa gauge",
        "high side from which the fan runs at full speed",
        "assumption: about 1.5 MPa (220 psi, common practice)",
    )
    still_air_w_k: float = free(
        14.0,
        "W/K",
        "heat off the condenser with no air moving through",
        "assumption: free convection and radiation",
    )
    draught_kg_s: float = free(
        0.04,
        "kg/s",
        "air through the face with no fan and no wind",
        "assumption: natural draught and radiator fan",
    )
    ram_kg_s_per_m_s: float = free(
        0.055,
        "kg/s per m/s",
        "air by ram or stand fan per air speed before the grille",
        "assumption: 0.25 m2 face, a fifth gets through",
    )
    recirculated_share: float = free(
        0.25,
        "-",
        "share of the air at the face that comes round from behind, idling and standing",
        "fit: 4a; RR 4a, idle 25-32 K above ambient against 19-22 K driving (RR 4b)",
    )
    subcooler_share: float = free(
        0.12,
        "-",
        "share of the face that subcools when the receiver holds liquid",
        "assumption: usual integrated receiver",
    )
    subcooler_power: float = free(
        0.7, "-", "heat transfer of the liquid part over that of the condensing part", "assumption"
    )
    volume_m3: float = free(0.90e-3, "m3", "refrigerant volume of the tubes", "assumption")
    receiver_m3: float = free(
        0.24e-3, "m3", "volume of receiver or drier (0 with an orifice tube)", "assumption"
    )
    pressure_loss: float = free(
        2.0e7,
        "Pa/(kg/s)2",
        "loss from compressor to condenser outlet",
        "assumption: about 30 kPa at 0.04 kg/s",
    )


@dataclass(frozen=True, slots=True)
class Evaporator:
    """Plate-fin evaporator, moist air by bypass and surface temperature."""

    air_conductance_w_k: float = free(290.0, "W/K", "air-side UA at the reference flow, sensible", "fit: 4a")
    conductance_power: float = free(0.55, "-", "growth of that UA with air flow", "assumption: louvred fins")
    reference_air_kg_s: float = free(0.13, "kg/s", "air flow that goes with it", "assumption")
    refrigerant_conductance_w_k: float = free(1200.0, "W/K", "from surface to boiling refrigerant", "fit: 4a")
    vapour_conductance_w_k: float = free(
        90.0, "W/K", "from air to vapour, were the whole coil dry", "assumption"
    )
    volume_m3: float = free(0.55e-3, "m3", "refrigerant volume", "assumption")
    air_max_kg_s: float = free(
        0.135, "kg/s", "air at highest blower, clean filter, no frost", "assumption: about 400 m3/h"
    )
    air_min_share: float = free(0.24, "-", "lowest blower step over highest", "assumption")
    frost_conductivity: float = free(0.3, "W/(m K)", "conductivity of frost", "assumption: dense coil frost")
    frost_area_m2: float = free(3.0, "m2", "air-side surface that carries frost", "assumption")
    frost_closes_m: float = free(
        0.9e-3, "m", "thickness at which the fins are closed", "assumption: half of a 1.8 mm fin gap"
    )
