"""Low, normal or high: a reading against what a healthy vehicle reads in the same conditions.

One interface, `band(conditions, reading)`. The numbers come from the healthy fleet (`fleet_table`), widened
by instruments; `bands_data` holds the rules from published charts and the trade, and says where they widen
or replace the fleet. A band hangs on load state and command state, never on a duty number: the same pair of
pressures is normal at part stroke and a fault at proved full command.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.physics import bands_data as data
from engine.physics.atmosphere import SEA_LEVEL_PA
from engine.physics.bands_data import BAND_VERSION, Row, Rule
from engine.physics.fleet_table import (
    DAMPNESS_NODES,
    IDLE_BELOW_PER_S,
    SET_SPEEDS_PER_S,
    Cell,
    dampness,
    fleet_cells,
)
from engine.physics.refrigerant import REFRIGERANTS, dew_pressure, saturation_gauge_pressure
from engine.physics.static import ABOVE_MARGIN_PA, GATE_MARGIN_PA
from engine.physics.units import ZERO_C

__all__ = ["BAND_VERSION", "READINGS", "Band", "Conditions", "band", "occurring"]

READINGS = ("low_side", "high_side", "vent_temperature")

_COMMANDS = ("minimum", "part", "ceiling")

_Ends = tuple[float, float, str]
"""Lower and upper end in SI, and their source."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a band depends on; None is unknown, and unknown widens a band or takes it away.

    `ambient_k`, `intake_k` (air into the blower) in K, `humidity` 0 to 1, `atmosphere_pa` Pa absolute,
    `speed` of the engine in 1/s; unknown, it is taken for that of the sets, 1500 to 2500 1/min, and the
    rules from charts widen the band. `load`: rest, moderate, raised or lowered. `command`: minimum, part,
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
    has no table, or (vent) the engine rests or the intake air is outside 10 to 45 degC. Raises ValueError for
    another reading or load.
    """
    if reading not in READINGS:
        raise ValueError(f"there is no band for {reading!r}; there are for {', '.join(READINGS)}")
    name, ambient_k = conditions.refrigerant, conditions.ambient_k
    if name not in REFRIGERANTS or name == "R-744" or ambient_k is None:
        return None
    ambient_c = ambient_k - ZERO_C
    if not data.LOWEST_AMBIENT_C <= ambient_c <= data.HIGHEST_AMBIENT_C:
        return None
    vent = reading == "vent_temperature"
    if conditions.load == "rest":
        return None if vent else _rest(name, ambient_k, conditions.atmosphere_pa)
    if conditions.load not in data.RUNNING:
        known = ", ".join(data.RUNNING)
        raise ValueError(f"no band for load {conditions.load!r}; loads are rest, {known}")
    if vent:
        return _joined(_vent(conditions, ambient_c)) if _intake_in_reach(conditions) else None
    return _joined(_side(conditions, reading, name, ambient_c))


def occurring(load: str, ambient_c: float, speed: float | None = None) -> tuple[str, ...]:
    """Command states that the own control of healthy cars comes to, in `data.OCCURS` of them or more."""
    found = tuple(
        command
        for command in _COMMANDS
        for cell in (_cell(load, command, speed),)
        if cell is not None and cell.own_share(ambient_c) >= data.OCCURS
    )
    return found or _COMMANDS


def _joined(ends: Iterator[_Ends]) -> Band | None:
    """The widest of them with every source; None if there are none."""
    every = list(ends)
    if not every:
        return None
    sources = "; ".join(dict.fromkeys(source for _, _, source in every))
    return Band(min(low for low, _, _ in every), max(high for _, high, _ in every), sources)


def _rest(name: str, ambient_k: float, atmosphere_pa: float) -> Band:
    saturation = saturation_gauge_pressure(name, ambient_k, atmosphere_pa)
    return Band(saturation - GATE_MARGIN_PA, saturation + ABOVE_MARGIN_PA, data.REST_SOURCE)


# -- the healthy fleet


def _cell(load: str, command: str, speed: float | None) -> Cell | None:
    idle = speed is not None and speed < IDLE_BELOW_PER_S
    return fleet_cells().get((load, command, "idle" if idle else "held"))


def _charts_speak(conditions: Conditions) -> bool:
    """The charts were taken idling: they widen the band there, and where the speed is not known."""
    return conditions.speed is None or conditions.speed < IDLE_BELOW_PER_S


def _fleet_ends(
    conditions: Conditions, cell: Cell, reading: str, ambient_c: float
) -> tuple[float, float] | None:
    """Widest ends over what is not known, as the table keeps them: degC, or K over ambient."""
    column = cell.columns.get(reading)
    if column is None:
        return None
    held_c = cell.reach.clamp(ambient_c)
    damps: Sequence[float] = DAMPNESS_NODES  # straight between its nodes: the widest is at one of them
    if conditions.humidity is not None:
        damps = (dampness(ambient_c + ZERO_C, conditions.humidity),)
    speeds = SET_SPEEDS_PER_S if conditions.speed is None else (conditions.speed,)
    ends = [column.ends(held_c, damp, speed) for damp in damps for speed in speeds]
    return min(low for low, _ in ends), max(high for _, high in ends)


# -- both sides


def _side(conditions: Conditions, reading: str, name: str, ambient_c: float) -> Iterator[_Ends]:
    for command in _side_commands(conditions, ambient_c):
        cell = _cell(conditions.load, command, conditions.speed)
        ends = None if cell is None else _fleet_ends(conditions, cell, reading, ambient_c)
        if ends is not None:
            assert cell is not None
            low, high, source = _measured(conditions, reading, name, ambient_c, ends)
            highest = cell.highest_pa + data.HIGH_GAUGE_ERROR_PA
            yield low, min(high, highest), source
        if ends is None or _charts_speak(conditions):
            yield _by_rule(conditions, reading, name, ambient_c, command)
        for rule in data.WIDENING:
            if _suits(rule, reading, conditions.load, command):
                ends = _between(rule.rows, ambient_c)
                yield _pressures(conditions, reading, name, ambient_c, ends, rule.source)


def _side_commands(conditions: Conditions, ambient_c: float) -> tuple[str, ...]:
    """The command states a reading may belong to: those that occur when the command is unknown."""
    if conditions.command == "ceiling" and ambient_c < data.FULL_STROKE_AMBIENT_C:
        return ("part", "ceiling")
    if conditions.command in _COMMANDS:
        return (conditions.command,)
    return occurring(conditions.load, ambient_c, conditions.speed)


def _measured(
    conditions: Conditions, reading: str, name: str, ambient_c: float, ends: tuple[float, float]
) -> _Ends:
    """True ends as gauge pressures, widened by the gauge and (high side) by the ambient thermometer."""
    low, high, source = _pressures(conditions, reading, name, ambient_c, ends, data.FLEET_SOURCE)
    if reading == "low_side":
        return low - data.LOW_GAUGE_ERROR_PA, high + data.LOW_GAUGE_ERROR_PA, source
    slack = data.AMBIENT_ERROR_K
    cool, warm = _pressures(conditions, reading, name, ambient_c, (ends[0] - slack, ends[1] + slack), "")[:2]
    gauge = data.HIGH_GAUGE_ERROR_PA
    return low - math.hypot(low - cool, gauge), high + math.hypot(warm - high, gauge), source


def _pressures(
    conditions: Conditions,
    reading: str,
    name: str,
    ambient_c: float,
    ends: tuple[float, float],
    source: str,
) -> _Ends:
    base_k = ZERO_C + (0.0 if reading == "low_side" else ambient_c)
    low, high = (dew_pressure(name, base_k + end) - conditions.atmosphere_pa for end in ends)
    return low, high, source


def _by_rule(conditions: Conditions, reading: str, name: str, ambient_c: float, command: str) -> _Ends:
    rule = _rule(reading, conditions.load, command)
    low, high = _between(rule.rows, ambient_c)
    if reading == "low_side":
        low, high = _widened(conditions, command, low, high)
    return _pressures(conditions, reading, name, ambient_c, (low, high), rule.source)


def _rule(reading: str, load: str, command: str) -> Rule:
    return next(rule for rule in data.RULES if _suits(rule, reading, load, command))


def _suits(rule: Rule, reading: str, load: str, command: str) -> bool:
    return rule.reading == reading and load in rule.loads and command in rule.commands


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


# -- the vent


def _intake_in_reach(conditions: Conditions) -> bool:
    intake_k = conditions.intake_k
    return intake_k is None or (data.VENT_LOWEST_INTAKE_C <= intake_k - ZERO_C <= data.VENT_HIGHEST_INTAKE_C)


def _vent(conditions: Conditions, ambient_c: float) -> Iterator[_Ends]:
    unmet = False
    for command in _vent_commands(conditions, ambient_c):
        cell = _cell(conditions.load, command, conditions.speed)
        ends = None if cell is None else _fleet_ends(conditions, cell, "vent_temperature", ambient_c)
        unmet = unmet or ends is None
        if ends is not None:
            low, high = ends[0] - data.VENT_ERROR_K + ZERO_C, ends[1] + data.VENT_ERROR_K + ZERO_C
            yield low, high, data.FLEET_SOURCE
            if conditions.load == "raised" and command == "part":
                yield low, high + data.RAISED_VENT_K, data.RAISED_VENT_SOURCE
    if unmet or _charts_speak(conditions):
        yield _vent_by_chart(conditions, ambient_c)


def _vent_commands(conditions: Conditions, ambient_c: float) -> tuple[str, ...]:
    """As for the sides, but a command at minimum that a healthy car's control would not come to here leaves
    the vent warm: that is judged by what the control would have come to.
    """
    command = conditions.command
    here = occurring(conditions.load, ambient_c, conditions.speed)
    if command not in _COMMANDS or (command == "minimum" and command not in here):
        return here
    return (command,)


def _vent_by_chart(conditions: Conditions, ambient_c: float) -> _Ends:
    intake_c = ambient_c if conditions.intake_k is None else conditions.intake_k - ZERO_C
    dry = conditions.humidity is not None and conditions.humidity <= data.VENT_HUMID_FROM
    low_c, high_c = _between(data.VENT_DRY if dry else data.VENT_HUMID, intake_c)
    extra_k = data.RAISED_VENT_K if conditions.load == "raised" else 0.0
    return low_c + ZERO_C, high_c + extra_k + ZERO_C, data.VENT_SOURCE


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
