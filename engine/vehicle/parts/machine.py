"""The compressor and its stroke valve as physical parameters, SI units.

These are true values: what a technician sees of them is `engine.vehicle.instruments`. Degradation is never
written here but in `engine.vehicle.fault_effects.Effects`. In the origins "RR" is shared/references.md; "fit:
4a" a fit to its running chart (one R-134a car, idle, maximum cold), "fit: mild day" one to the common
practice of issue 3 section 2 (no published source).
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.parameter import free


@dataclass(frozen=True, slots=True)
class Compressor:
    """Belt-driven swash-plate compressor. Shaft work = gross flow x ideal work / `isentropic` efficiency."""

    control: str = free(
        "solenoid", "-", "solenoid | internal | fixed", "identity: stroke_control of the flow"
    )
    clutch: bool = free(
        False, "-", "has a clutch (else the shaft always turns)", "identity: clutch of the flow"
    )
    displacement_m3: float = free(
        160e-6,
        "m3/rev",
        "swept volume at full stroke",
        "source: 169 cm3 in ACRC TR-14, 1992 (RR 3), rounded to a common size",
    )
    smallest_stroke: float = free(
        0.03, "-", "smallest stroke over full", "source: 5 % default in RR 5 (one maker); assumption: 2-5 %"
    )
    pulley_ratio: float = free(1.3, "-", "compressor over engine speed", "assumption: usual belt ratio")
    volumetric_at_rest: float = free(
        0.95,
        "-",
        "volumetric efficiency towards zero speed and pressure ratio 1",
        "assumption: level; ACRC TR-14 print 0.889",
    )
    volumetric_per_speed: float = free(
        0.006,
        "s",
        "loss of volumetric efficiency per 1/s",
        "source: -0.10 per 1000 1/min, ACRC TR-14, 1992 (RR 3)",
    )
    clearance: float = free(
        0.035,
        "-",
        "clearance volume over swept volume at full stroke",
        "assumption: swash-plate pumps with reeds",
    )
    clearance_at_short_stroke: float = free(
        0.25,
        "-",
        "how strongly clearance weighs more at short stroke (power of 1/stroke)",
        "assumption: near-constant top dead centre of the swash plate",
    )
    isentropic: float = free(
        0.76,
        "-",
        "isentropic efficiency at low speed, full stroke and best pressure ratio",
        "fit: ACRC TR-14, 1992 (RR 3), 0.62 at 2000 1/min",
    )
    isentropic_per_speed: float = free(
        0.0029,
        "s",
        "loss of isentropic efficiency per 1/s",
        "source: -4.87e-5 per 1/min, ACRC TR-14, 1992 (RR 3)",
    )
    isentropic_per_ratio: float = free(
        0.012,
        "-",
        "loss of isentropic efficiency per unit of pressure ratio above 3",
        "assumption: no published formula (RR 10)",
    )
    isentropic_short_stroke: float = free(
        0.25,
        "-",
        "share of isentropic efficiency lost towards zero stroke",
        "assumption: friction of a plate that barely swings",
    )
    shell_loss: float = free(
        0.06, "-", "share of shaft work lost from shell and discharge line to the bay", "assumption"
    )
    leak_area_m2: float = free(
        0.15e-6, "m2", "internal leak of a sound pump", "assumption: 1-2 % of full flow"
    )
    friction_w_s: float = free(3.0, "J", "friction work per revolution of a sound pump", "assumption")


@dataclass(frozen=True, slots=True)
class ControlValve:
    """What the solenoid's current asks for. All three characteristics are straight lines (RR 10: no curve is
    published), from nothing at `current_min` to the most cooling at `current_max`."""

    kind: str = free("suction", "-", "suction | difference | flow", "identity: valve_type of the flow")
    current_min_a: float = free(0.20, "A", "current at which the valve begins to ask", "assumption")
    current_max_a: float = free(
        0.82,
        "A",
        "current of the strongest command",
        "fit: duty 75-100 % at full cold (RR 5) with 10.6 ohm, warm, 13.5 V",
    )
    suction_at_min_pa: float = free(
        455e3, "Pa abs", "suction pressure asked for at current_min", "fit: mild day"
    )
    suction_at_max_pa: float = free(
        185e3,
        "Pa abs",
        "suction pressure asked for at current_max",
        "assumption: just above icing at full command",
    )
    internal_suction_pa: float = free(
        300e3,
        "Pa abs",
        "suction pressure an internal valve holds at 1.0 MPa discharge",
        "assumption: about 30 psi gauge",
    )
    internal_per_discharge: float = free(
        0.02,
        "Pa/Pa",
        "by how much that falls per discharge pressure above 1.0 MPa",
        "assumption: internal valves lower it with head",
    )
    difference_at_min_pa: float = free(80e3, "Pa", "pd-ps asked for at current_min", "assumption")
    difference_at_max_pa: float = free(
        2600e3, "Pa", "pd-ps asked for at current_max", "assumption: beyond what a hot day needs"
    )
    flow_at_min_kg_s: float = free(0.0006, "kg/s", "flow asked for at current_min", "assumption")
    flow_at_max_kg_s: float = free(
        0.060,
        "kg/s",
        "flow asked for at current_max",
        "assumption: above the largest flow of the reference car",
    )
