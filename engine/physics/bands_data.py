"""What published charts and the trade say that healthy vehicles read; each row with its source.

Bands come from the healthy fleet first (`fleet_table`). These rules stand where the fleet never comes to
(full command at moderate or lowered load), widen the fleet's band where the chart was taken (idling, or speed
not known), and check it in tests.

Sources: CHART is the only published running chart at hand, one R-134a vehicle (model year 2010, service
manual, maker withheld; idle, bonnet open, maximum cold, recirculation, blower high, relative humidity 50 to
70 %, taken as gauge): references.md 4a. RULE are the rules of thumb of references.md 4b: condensing 19 to 22
K over ambient, evaporating -7 to 7 degC. CP is common practice, no published source. For R-1234yf and R-152a
no chart was found: their rows are the same temperatures, so their pressures follow from their own saturation.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.physics.units import PSI

BAND_VERSION = "2"
"""Changes whenever a number here does; kept with every job."""


LOW_GAUGE_ERROR_PA = 2.3 * PSI
HIGH_GAUGE_ERROR_PA = 5.5 * PSI
AMBIENT_ERROR_K, VENT_ERROR_K = 1.25, 0.95
"""By how much instruments widen a band of true values: two standard deviations (bias and noise) and half a
step of the instruments as `engine.vehicle.instruments` states them. Our assumption, as those are."""

OCCURS = 0.05
"""Share of healthy cars whose control comes to a command state for an unknown command to be taken for it.
Our assumption: with less, one rare state (a command taken back on a hot day) would widen every band."""

FLEET_SOURCE = "healthy fleet of simulated vehicles (engine/physics/tables/healthy_fleet.json)"

RUNNING = ("moderate", "raised", "lowered")

LOWEST_AMBIENT_C, HIGHEST_AMBIENT_C = 5.0, 50.0
"""Outside there is no band: nothing published, and a compressor may be locked out below."""

FULL_STROKE_AMBIENT_C = 18.0
"""Below this full stroke may be out of reach, so a ceiling is judged no stricter than part stroke. CP"""

FAST_PER_S, FAST_LOWERS_K = 2000.0 / 60.0, 3.0
"""Above this compressor-driving speed (1/s) the low side at full stroke may evaporate this much colder. CP"""

HUMID, HUMID_RAISES_K = 0.70, 1.0
DRY, DRY_LOWERS_K = 0.50, 2.0
"""Beyond the chart's humidity the low side at full stroke may be this much higher or lower. Direction:
references.md 4f (drier intake air, lower pressure); the amounts are CP."""

RAISED_VENT_K = 2.0
RAISED_VENT_SOURCE = "the vent may warm a little with the load: common practice, no published source"
"""A raised load may warm the vent this much beyond the chart's recirculation, and at part stroke beyond the
fleet, whose control has all the time it wants to come back to its target. CP"""


@dataclass(frozen=True, slots=True)
class Row:
    """Lower and upper end at one air temperature in degC; between rows a straight line, beyond them flat."""

    air_c: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Rule:
    """Rows for one reading in these load and command states."""

    reading: str
    loads: tuple[str, ...]
    commands: tuple[str, ...]
    rows: tuple[Row, ...]
    source: str


_CHART = "running chart of one R-134a vehicle at idle (references.md 4a)"
_RULE = "rules of thumb (references.md 4b)"
_CP = "common practice, no published source"

# Evaporating temperature in degC over ambient. The chart's own: -2..1.6 at 25 degC, 0.4..4.3 at 30, 3.4..7.5
# at 35, 8.4..13 at 40; one vehicle, so 5 K are added below (speed, other valves) and 3.4 K above.
_FULL_RAISED = (
    Row(25.0, -7.0, 5.0),
    Row(30.0, -4.6, 7.7),
    Row(35.0, -1.6, 10.9),
    Row(40.0, 3.4, 16.4),
    Row(50.0, 3.4, 27.0),
)
# Full stroke with less load than it could take pulls the low side down, further the less load there is.
_FULL_MODERATE = (
    Row(25.0, -12.0, 5.0),
    Row(30.0, -12.0, 7.7),
    Row(35.0, -8.0, 10.9),
    Row(40.0, -5.0, 16.4),
    Row(50.0, -5.0, 27.0),
)
_FULL_LOWERED = tuple(Row(row.air_c, -15.0, row.high) for row in _FULL_RAISED)

LOW_SIDE = (
    Rule("low_side", ("raised",), ("ceiling",), _FULL_RAISED, f"{_CHART}, widened; {_RULE}"),
    Rule(
        "low_side",
        ("moderate",),
        ("ceiling",),
        _FULL_MODERATE,
        f"upper end: {_CHART}, widened; lower end: {_CP}",
    ),
    Rule(
        "low_side",
        ("lowered",),
        ("ceiling",),
        _FULL_LOWERED,
        f"upper end: {_CHART}, widened; lower end: {_CP}",
    ),
    # Part stroke: the control holds the low side near its target; 20 to 40 psi and a little over when mild.
    Rule(
        "low_side",
        ("moderate",),
        ("part",),
        (Row(35.0, -6.0, 12.0), Row(40.0, -6.0, 16.4), Row(50.0, -6.0, 27.0)),
        f"{_RULE}; part stroke reads at the top of the range and over: {_CP}",
    ),
    # Part stroke at low load that stays below freezing is a valve stuck high or an evaporator sensor.
    Rule(
        "low_side",
        ("lowered",),
        ("part",),
        (Row(35.0, -1.0, 12.0), Row(40.0, -1.0, 16.4), Row(50.0, -1.0, 27.0)),
        f"not below freezing at low load, and part stroke reads high: {_CP}",
    ),
    Rule(
        "low_side",
        ("raised",),
        ("part",),
        tuple(Row(row.air_c, row.low, max(row.high, 12.0)) for row in _FULL_RAISED),
        f"{_CHART}, widened; part stroke reads high: {_CP}",
    ),
    # Minimum stroke: the sides come together, up to the saturation of the air around.
    Rule(
        "low_side",
        RUNNING,
        ("minimum",),
        (Row(5.0, -6.0, 7.0), Row(50.0, -6.0, 52.0)),
        f"at minimum stroke the sides are almost equal: {_CP}",
    ),
)

# Condensing temperature in K over ambient. The chart has 22 to 35, the rule 19 to 22. In cool air a resting
# fan lets the high side go to about 220 psi (58 degC for R-134a) without a fault (CP).
HIGH_SIDE = (
    Rule(
        "high_side",
        ("raised", "moderate"),
        ("ceiling",),
        (Row(5.0, 18.0, 53.0), Row(20.0, 18.0, 38.5), Row(25.0, 18.0, 37.0)),
        f"{_RULE} less 1 K to {_CHART} plus 2 K; cool air: {_CP}",
    ),
    Rule(
        "high_side",
        ("lowered",),
        ("ceiling",),
        (Row(5.0, 12.0, 53.0), Row(20.0, 12.0, 38.5), Row(25.0, 12.0, 37.0)),
        f"lower end: {_CP}; upper end: {_CHART} plus 2 K",
    ),
    Rule(
        "high_side",
        ("raised",),
        ("part",),
        (Row(5.0, 5.0, 53.0), Row(20.0, 5.0, 38.5), Row(25.0, 5.0, 37.0)),
        f"lower end, part stroke: {_CP}; upper end: {_CHART} plus 2 K",
    ),
    Rule(
        "high_side",
        ("moderate", "lowered"),
        ("part",),
        (Row(5.0, 1.0, 53.0), Row(20.0, 1.0, 38.5), Row(25.0, 1.0, 37.0)),
        f"lower end, part stroke: {_CP}; upper end: {_CHART} plus 2 K",
    ),
    Rule(
        "high_side",
        RUNNING,
        ("minimum",),
        (Row(25.0, -8.0, 22.0),),
        f"at minimum stroke the sides are almost equal: {_CP}",
    ),
)

# Where common practice widens the fleet at any speed: on a mild day part stroke shows about 40 over 120 psi
# (up to 41 and 130 psi of R-134a: 8.0 degC evaporating, 39.3 degC condensing), under light load and raised,
# and is healthy. The fleet, whose targets, fans and doors are our assumption, differs: at light load it ends
# 2 psi lower on the low side (25 degC) and 36 psi lower on the high side (20 degC); raised (25 degC,
# 50 % humidity) it ends 8 psi lower on the low side, and begins 30 psi higher on the high side. Rows with
# equal ends widen one end only.
_LIGHT = (("moderate", "lowered"), ("part",))
_RAISED_PART = (("raised",), ("part",))
_MILD = f"part stroke on a mild day: {_CP}"
WIDENING = (
    Rule("low_side", *_LIGHT, (Row(25.0, 8.0, 8.0), Row(30.0, 3.0, 3.0)), _MILD),
    Rule(
        "high_side",
        *_LIGHT,
        (Row(18.0, 21.3, 21.3), Row(20.0, 19.3, 19.3), Row(25.0, 14.3, 14.3), Row(30.0, 9.3, 9.3)),
        _MILD,
    ),
    Rule("low_side", *_RAISED_PART, (Row(25.0, 7.6, 7.6), Row(30.0, 0.0, 0.0)), _MILD),
    Rule("high_side", *_RAISED_PART, (Row(25.0, 12.0, 12.0), Row(30.0, 25.0, 25.0)), _MILD),
)

# Centre vent in degC over the air into the blower, 3 K above the chart's upper end; no healthy vent is below
# 1 degC (evaporator targets are 3 to 8 degC: references.md 5). One column up to 60 % humidity, one over.
_VENT_LOW_C = 1.0
VENT_DRY = (
    Row(10.0, _VENT_LOW_C, 9.0),
    Row(20.0, _VENT_LOW_C, 11.0),
    Row(25.0, _VENT_LOW_C, 13.9),
    Row(30.0, _VENT_LOW_C, 20.5),
    Row(40.0, _VENT_LOW_C, 34.0),
)
VENT_HUMID = (
    Row(10.0, _VENT_LOW_C, 10.0),
    Row(20.0, _VENT_LOW_C, 12.1),
    Row(25.0, _VENT_LOW_C, 16.4),
    Row(30.0, _VENT_LOW_C, 23.5),
    Row(40.0, _VENT_LOW_C, 37.0),
)
VENT_HUMID_FROM = 0.60
VENT_LOWEST_INTAKE_C, VENT_HIGHEST_INTAKE_C = 10.0, 45.0
VENT_SOURCE = f"{_CHART}, plus 3 K; lower end: evaporator targets (references.md 5)"

REST_SOURCE = "saturation at ambient, less the margin of references.md 4c, plus 10 psi (common practice)"

RULES = LOW_SIDE + HIGH_SIDE
