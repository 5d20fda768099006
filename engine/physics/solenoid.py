"""The stroke solenoid as a piece of copper: its resistance at 20 degC, and what a resistance belongs to.

The classes tell what was probed, not whether it is good: two wires at the back of a compressor may be a speed
sensor, a clutch coil or a pressure switch. The maker's value comes first wherever it is known. Ranges marked
(cp) are common practice, no published source. Duty, current and command are `engine.physics.command`.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "CLASSES",
    "COPPER_PER_K",
    "classify_coil",
    "copper_factor",
    "drive_frequency_class",
    "resistance_at_20",
    "solenoid_class",
    "to_case_class",
    "without_leads",
]

COPPER_PER_K = 0.00393
"""Temperature coefficient of copper at 20 degC, 1/K. IEC 60028; references.md section 5."""

_REFERENCE_K = 293.15
_COLDEST_K, _HOTTEST_K = 233.15, 423.15  # -40 to 150 degC, where a coil in an engine bay can be

UNCLEAR = "unclear"


@dataclass(frozen=True, slots=True)
class ResistanceClass:
    """A named range of ohms, closed at `low`, open at `high`. `copper`: the range holds at 20 degC."""

    name: str
    low: float
    high: float
    copper: bool
    source: str


CLASSES = (
    ResistanceClass("short", 0.0, 0.3, False, "(cp) less than a closed contact with its wires"),
    ResistanceClass(
        "closed-switch", 0.3, 1.5, False, "(cp) a closed pressure switch reads 0.5 to 1 ohm; widened"
    ),
    ResistanceClass(
        "clutch-coil",
        2.5,
        6.0,
        True,
        "3.03 to 5.16 ohm in four service manuals (references.md section 5); widened",
    ),
    ResistanceClass(
        "stroke-coil", 8.0, 14.0, True, "10.1 to 11.1 ohm in two service manuals (section 5); widened (cp)"
    ),
    ResistanceClass(
        "sensor", 100.0, 100e3, False, "(cp) speed sensors have hundreds of ohms, others thousands"
    ),
    ResistanceClass("open", 100e3, float("inf"), False, "(cp) no winding in a compressor is that high"),
)

ISOLATED_OHM = 100e3
"""From a two-wire coil to the case, at least. (cp)"""

GROUNDED_OHM = 10e3
"""Below this a two-wire coil touches the case; between the two it may be damp. (cp)"""

USUAL_DRIVE_HZ = (200.0, 1000.0)
"""Frequencies that are no fault by themselves (cp); 400 and 500 Hz are published (section 5)."""


def copper_factor(temperature_k: float) -> float:
    """Resistance of copper at `temperature_k` over that at 20 degC: 1 + 0.00393 (t - 20)."""
    return 1.0 + COPPER_PER_K * (temperature_k - _REFERENCE_K)


def without_leads(reading_ohm: float, lead_ohm: float | None) -> float:
    """The reading less what the meter shows with its tips held together, never below zero, in ohm."""
    return max(reading_ohm - (lead_ohm or 0.0), 0.0)


def resistance_at_20(reading_ohm: float, coil_k: float | None, lead_ohm: float | None) -> float | None:
    """Resistance the coil would show at 20 degC, in ohm; None if its temperature is not known.

    None as well outside -40 to 150 degC, where no coil in a vehicle is: that temperature is a slip.

    >>> round(resistance_at_20(14.13, 373.15, 0.2), 1)
    10.6
    """
    if coil_k is None or not _COLDEST_K <= coil_k <= _HOTTEST_K:
        return None
    return without_leads(reading_ohm, lead_ohm) / copper_factor(coil_k)


def classify_coil(r20_ohm: float | None, reading_ohm: float, lead_ohm: float | None = None) -> str:
    """What the resistance belongs to: one of the names in `CLASSES`, or `unclear`.

    `r20_ohm` is the value at 20 degC, None if the coil's temperature is unknown; then a coil's range is
    widened to all that copper does between -10 and 120 degC, and what could be two things is unclear.
    """
    reading_ohm = without_leads(reading_ohm, lead_ohm)
    fitting = [c.name for c in CLASSES if _fits(c, r20_ohm, reading_ohm)]
    return fitting[0] if len(fitting) == 1 else UNCLEAR


def _fits(candidate: ResistanceClass, r20_ohm: float | None, reading_ohm: float) -> bool:
    if not candidate.copper:
        return candidate.low <= reading_ohm < candidate.high
    if r20_ohm is not None:
        return candidate.low <= r20_ohm < candidate.high
    coldest, hottest = copper_factor(263.15), copper_factor(393.15)
    return candidate.low * coldest <= reading_ohm < candidate.high * hottest


def to_case_class(to_case_ohm: float) -> str:
    """A two-wire coil against the compressor's case: `isolated`, `to-case` (a fault) or `unclear` (damp?)."""
    if to_case_ohm < GROUNDED_OHM:
        return "to-case"
    return "isolated" if to_case_ohm >= ISOLATED_OHM else UNCLEAR


def solenoid_class(
    reading_ohm: float | None,
    coil_k: float | None,
    lead_ohm: float | None,
    to_case_ohm: float | None,
    rear_connector: str | None,
) -> str | None:
    """Class of what was measured at the compressor, or None if nothing was measured.

    A two-wire coil that touches the case is `to-case`, whatever it reads across its pins. A `one-wire` coil
    returns through the case, so there its resistance to the case is the coil's own and no fault.
    """
    through_case = rear_connector == "one-wire"
    if through_case and reading_ohm is None:
        reading_ohm = to_case_ohm
    if not through_case and to_case_ohm is not None and to_case_class(to_case_ohm) == "to-case":
        return "to-case"
    if reading_ohm is None:
        return None
    return classify_coil(resistance_at_20(reading_ohm, coil_k, lead_ohm), reading_ohm, lead_ohm)


def drive_frequency_class(frequency_hz: float) -> str:
    """`usual`, or `suspect-wire`: far outside what drives stroke valves, the wire probed is suspect first."""
    low, high = USUAL_DRIVE_HZ
    return "usual" if low <= frequency_hz <= high else "suspect-wire"
