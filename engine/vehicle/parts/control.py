"""Solenoid, drive and control unit as parameters, SI units.

These are true values: what a technician sees of them is `engine.vehicle.instruments`. Degradation is never
written here but in `engine.vehicle.fault_effects.Effects`. In the origins "RR" is shared/references.md; "fit:
4a" a fit to its running chart (one R-134a car, idle, maximum cold), "fit: mild day" one to the common
practice of issue 3 section 2 (no published source).
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.parameter import free


@dataclass(frozen=True, slots=True)
class Electrics:
    """Stroke solenoid and its drive."""

    coil_ohm_20: float = free(
        10.6, "ohm", "coil resistance at 20 degC", "source: middle of 10.1-11.1 ohm (RR 5)"
    )
    clutch_coil_ohm_20: float = free(
        3.8, "ohm", "clutch coil at 20 degC, if there is a clutch", "source: 3.1-5.2 ohm (RR 5)"
    )
    wiring_ohm: float = free(0.15, "ohm", "wires, pins and driver in series", "assumption")
    supply_v: float = free(13.8, "V", "supply with the engine running", "assumption: usual charging voltage")
    battery_v: float = free(12.5, "V", "supply with the engine off", "assumption: charged battery")
    frequency_hz: float = free(400.0, "Hz", "drive frequency", "source: 400 and 500 Hz (RR 5)")
    switched_side: str = free(
        "ground", "-", "ground | supply: side the control unit pulses", "source: both exist (RR 5)"
    )
    regulation: str = free(
        "current",
        "-",
        "current: duty follows resistance and supply; duty: current follows them",
        "source: both (RR 5)",
    )
    two_wire: bool = free(
        True, "-", "coil has two wires (else it returns through the case)", "assumption: the usual one"
    )
    coil_over_ambient_k: float = free(
        45.0,
        "K",
        "solenoid over ambient while the compressor runs",
        "assumption: bolted to a warm compressor",
    )
    duty_max: float = free(0.98, "-", "largest duty of the driver", "assumption")


@dataclass(frozen=True, slots=True)
class Controller:
    """Integral control of air off the evaporator to its target, within limits."""

    target_hot_k: float = free(276.65, "K", "evaporator air target on hot days", "source: 3-8 degC (RR 5)")
    target_mild_k: float = free(
        281.15, "K", "evaporator air target on mild days", "source: 3-8 degC (RR 5); fit: mild day"
    )
    mild_ambient_k: float = free(295.15, "K", "ambient up to which the mild target holds", "assumption")
    hot_ambient_k: float = free(303.15, "K", "ambient from which the hot target holds", "assumption")
    back_off_pa: float = free(
        2.55e6, "Pa gauge", "high side at which the command is taken back", "assumption: below the cut-out"
    )
    cut_out_high_pa: float = free(
        3.0e6,
        "Pa gauge",
        "high side at which the compressor is switched off",
        "assumption: usual switch 2.7-3.2 MPa",
    )
    cut_out_low_pa: float = free(
        0.18e6,
        "Pa gauge",
        "high-side sensor below which the compressor is kept off",
        "assumption: usual low-pressure switch 0.2 MPa",
    )
    lock_out_ambient_k: float = free(
        277.15, "K", "ambient below which A/C is refused", "assumption: a few degC; 5 degC by issue 3"
    )
    freeze_cut_out_k: float = free(
        274.15,
        "K",
        "evaporator air below which a clutch opens or command goes to minimum",
        "assumption: 1 degC",
    )
    cycling_band_k: float = free(
        3.0, "K", "rise of evaporator air before a clutch closes again", "assumption"
    )
    cycling_by: str = free(
        "sensor",
        "-",
        "what opens a clutch on a cold evaporator: sensor (and control unit) | pressure | thermostat",
        "identity: cycling_by of the flow",
    )
    switch_open_pa: float = free(
        152e3,
        "Pa gauge",
        "low side at which a cycling pressure switch opens",
        "assumption: about 22 psi with R-134a (common practice)",
    )
    switch_close_pa: float = free(
        303e3,
        "Pa gauge",
        "low side at which it closes again",
        "assumption: about 44 psi with R-134a (common practice)",
    )
    thermostat_open_k: float = free(
        274.15, "K", "air off the coil at which a thermostat switch opens", "assumption: 1 degC"
    )
    thermostat_band_k: float = free(
        4.0, "K", "rise of that air before it closes again", "assumption: 3 to 5 K (common practice)"
    )
