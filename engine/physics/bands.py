"""Low, normal or high: a reading against what a healthy vehicle reads in the same conditions.

One interface, `band(conditions, reading)`; the numbers and their sources are `bands_data`. A band hangs on
load state and command state, never on a duty number: the same pair of pressures is normal at part stroke and
a fault at proved full command. Wide where the source is thin, and absent where there is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.physics import bands_data as data
from engine.physics.atmosphere import SEA_LEVEL_PA
from engine.physics.bands_data import BAND_VERSION, Row, Rule
from engine.physics.refrigerant import REFRIGERANTS, dew_pressure, saturation_gauge_pressure
from engine.physics.static import ABOVE_MARGIN_PA, GATE_MARGIN_PA

__all__ = ["BAND_VERSION", "READINGS", "Band", "Conditions", "band"]

READINGS = ("low_side", "high_side", "vent_temperature")

_ZERO_C = 273.15
_COMMANDS = ("minimum", "part", "ceiling")


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a band depends on; None is unknown, and unknown widens a band or takes it away.

    `ambient_k`, `intake_k` (air into the blower) in K, `humidity` 0 to 1, `atmosphere_pa` Pa absolute,
    `speed` of the engine in 1/s. `load`: rest, moderate, raised or lowered. `command`: minimum, part,
    ceiling or unknown.
    """

    refrigerant: str | None
    ambient_k: float | None
    load: str
    command: str = "unknown"
    humidity: float | None = None
    atmosphere_pa: float = SEA_LEVEL_PA
    speed: float | None = None
    intake_k: float | None = None


@dataclass(frozen=True, slots=True)
class Band:
    """Closed range of normal in SI (Pa gauge, or K), and where it comes from."""

    low: float
    high: float
    source: str

    def word(self, value: float) -> str:
        """`low`, `normal` or `high`."""
        if value < self.low:
            return "low"
        return "high" if value > self.high else "normal"


def band(conditions: Conditions, reading: str) -> Band | None:
    """What a healthy vehicle reads; `reading` is one of `READINGS`.

    None when refrigerant or ambient is unknown, ambient is outside 5 to 50 degC, the refrigerant is R-744 or
    has no table, or (vent) the engine rests. Raises ValueError for another reading.
    """
    if reading not in READINGS:
        raise ValueError(f"there is no band for {reading!r}; there are for {', '.join(READINGS)}")
    name, ambient_k = conditions.refrigerant, conditions.ambient_k
    if name not in REFRIGERANTS or name == "R-744" or ambient_k is None:
        return None
    if not data.LOWEST_AMBIENT_C <= ambient_k - _ZERO_C <= data.HIGHEST_AMBIENT_C:
        return None
    if reading == "vent_temperature":
        return _vent(conditions, ambient_k)
    if conditions.load == "rest":
        return _rest(name, ambient_k, conditions.atmosphere_pa)
    return _running(conditions, reading, name, ambient_k)


def _rest(name: str, ambient_k: float, atmosphere_pa: float) -> Band:
    saturation = saturation_gauge_pressure(name, ambient_k, atmosphere_pa)
    return Band(saturation - GATE_MARGIN_PA, saturation + ABOVE_MARGIN_PA, data.REST_SOURCE)


def _vent(conditions: Conditions, ambient_k: float) -> Band | None:
    intake_c = (ambient_k if conditions.intake_k is None else conditions.intake_k) - _ZERO_C
    if conditions.load == "rest" or not data.VENT_LOWEST_INTAKE_C <= intake_c <= data.VENT_HIGHEST_INTAKE_C:
        return None
    dry = conditions.humidity is not None and conditions.humidity <= data.VENT_HUMID_FROM
    low_c, high_c = _between(data.VENT_DRY if dry else data.VENT_HUMID, intake_c)
    extra_k = data.RAISED_VENT_K if conditions.load == "raised" else 0.0
    return Band(low_c + _ZERO_C, high_c + extra_k + _ZERO_C, data.VENT_SOURCE)


def _running(conditions: Conditions, reading: str, name: str, ambient_k: float) -> Band:
    ends: list[float] = []
    sources: list[str] = []
    for command in _commands(conditions.command, ambient_k - _ZERO_C):
        rule = _rule(reading, conditions.load, command)
        low, high = _between(rule.rows, ambient_k - _ZERO_C)
        if reading == "low_side":
            low, high = _widened(conditions, command, low, high)
        ends += [low, high]
        if rule.source not in sources:
            sources.append(rule.source)
    base_k = _ZERO_C if reading == "low_side" else ambient_k
    low_pa, high_pa = (
        dew_pressure(name, base_k + end) - conditions.atmosphere_pa for end in (min(ends), max(ends))
    )
    return Band(low_pa, high_pa, "; ".join(sources))


def _commands(command: str, ambient_c: float) -> tuple[str, ...]:
    """The command states a reading may belong to: all of them when the command is unknown."""
    if command == "ceiling" and ambient_c < data.FULL_STROKE_AMBIENT_C:
        return ("part", "ceiling")
    return (command,) if command in _COMMANDS else _COMMANDS


def _rule(reading: str, load: str, command: str) -> Rule:
    for rule in data.RULES:
        if rule.reading == reading and load in rule.loads and command in rule.commands:
            return rule
    raise ValueError(f"no band for load {load!r}; loads are rest, {', '.join(data.RUNNING)}")


def _widened(conditions: Conditions, command: str, low_c: float, high_c: float) -> tuple[float, float]:
    """Evaporating temperatures at full stroke, widened for speed and for humidity beyond the chart's."""
    if command != "ceiling":
        return low_c, high_c
    if conditions.speed is not None and conditions.speed > data.FAST_PER_S:
        low_c -= data.FAST_LOWERS_K
    if conditions.humidity is None or conditions.humidity < data.DRY:
        low_c -= data.DRY_LOWERS_K
    if conditions.humidity is None or conditions.humidity > data.HUMID:
        high_c += data.HUMID_RAISES_K
    return low_c, high_c


def _between(rows: Sequence[Row], air_c: float) -> tuple[float, float]:
    """Ends at `air_c`: a straight line between the rows on either side, flat beyond the first and last."""
    if air_c <= rows[0].air_c:
        return rows[0].low, rows[0].high
    for before, after in pairwise(rows):
        if air_c <= after.air_c:
            share = (air_c - before.air_c) / (after.air_c - before.air_c)
            return (
                before.low + share * (after.low - before.low),
                before.high + share * (after.high - before.high),
            )
    return rows[-1].low, rows[-1].high
