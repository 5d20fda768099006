"""What a pressure-enthalpy picture of a set needs, or the sentence that says why there is none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.job.compare import sets_begun
from engine.physics.cycle import CYCLE_REFRIGERANTS, CyclePoint, cycle_points, dome
from engine.physics.refrigerant import RefrigerantError, dew_temperature

if TYPE_CHECKING:
    from engine.job.walk import Walk


class NoPicture(Exception):
    """There is nothing to draw; the message tells the person what is missing."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A set on the pressure-enthalpy chart: J/kg and Pa absolute; superheat and subcooling in K or None.

    `assumed` says, a sentence each, what was drawn without having been read.
    """

    label: str
    refrigerant: str
    dome: tuple[tuple[float, float], ...]
    points: tuple[CyclePoint, ...]
    superheat: float | None
    subcooling: float | None
    assumed: tuple[str, ...]


def running_sets(walk: Walk) -> tuple[str, ...]:
    """The sets begun with the compressor running: at rest there is no cycle."""
    return tuple(name for name in sets_begun(walk) if walk.flow.sets[name].load != "rest")


def telling_set(walk: Walk) -> str | None:
    """The set to show first: the newest with its superheat known, else the newest, None without any."""
    sets = running_sets(walk)
    told = [name for name in sets if _superheat(walk, name)[0] is not None]
    return (told or sets or (None,))[-1]


def picture(walk: Walk, set_name: str, pressure_unit: str = "psi", temperature_unit: str = "degF") -> Picture:
    """The picture of a set. The units, of a gauge pressure and a temperature, only word an error.

    Raises NoPicture if readings are missing, the contents are not trusted, or the tables do not reach.
    """
    refrigerant = _refrigerant(walk)
    low, high = (
        _absolute(walk, set_name, side, refrigerant, pressure_unit, temperature_unit) for side in _SIDES
    )
    superheat, by_evaporator = _superheat(walk, set_name)
    subcooling, by_condenser = _subcooling(walk, set_name)
    discharge = _number(walk, f"{set_name}.discharge_temperature")
    try:
        points = cycle_points(refrigerant, low, high, superheat or 0.0, subcooling or 0.0, discharge)
    except RefrigerantError as error:
        raise NoPicture(str(error)) from error
    return Picture(
        label=walk.flow.sets[set_name].label,
        refrigerant=refrigerant,
        dome=dome(refrigerant),
        points=points,
        superheat=superheat,
        subcooling=subcooling,
        assumed=(
            *_stands_in(by_evaporator, by_condenser),
            *_assumed(superheat, subcooling),
            *_of_contents(walk),
        ),
    )


_SIDES = ("low_side", "high_side")


def _refrigerant(walk: Walk) -> str:
    name = walk.facts.get("refrigerant")
    covered = " and ".join(CYCLE_REFRIGERANTS)
    if name is None:
        raise NoPicture("The refrigerant is not known yet: the picture needs it.")
    if name not in CYCLE_REFRIGERANTS:
        words = {choice.word: choice.label for choice in walk.flow.readings["refrigerant"].choices}
        raise NoPicture(f"There is no picture for {words.get(str(name), name)}: the tables hold {covered}.")
    if walk.facts.get("identity") == "wrong":
        raise NoPicture(f"The contents are not proper {name}: no picture can be drawn from saturation.")
    return str(name)


def _absolute(
    walk: Walk, set_name: str, side: str, refrigerant: str, pressure_unit: str, temperature_unit: str
) -> float:
    gauge = _number(walk, f"{set_name}.{side}")
    if gauge is None:
        label = walk.flow.readings[side].label if side in walk.flow.readings else side
        raise NoPicture(
            f"{label} is missing in {walk.flow.sets[set_name].label}: the picture needs both sides."
        )
    atmosphere = _number(walk, "atmospheric_pressure") or 101325.0
    try:
        dew_temperature(
            refrigerant,
            gauge + atmosphere,
            pressure_unit=pressure_unit,
            temperature_unit=temperature_unit,
            atmosphere_pa=atmosphere,
        )
    except RefrigerantError as error:
        raise NoPicture(str(error)) from error
    return gauge + atmosphere


def _superheat(walk: Walk, set_name: str) -> tuple[float | None, bool]:
    """Superheat at the compressor in K, else at the evaporator's outlet; and whether it is that one."""
    return _first_of(walk, f"{set_name}.superheat", f"{set_name}.evaporator_superheat")


def _subcooling(walk: Walk, set_name: str) -> tuple[float | None, bool]:
    """Subcooling of the liquid line in K, else at the condenser's outlet; and whether it is that one."""
    return _first_of(walk, f"{set_name}.subcooling", f"{set_name}.condenser_subcooling")


def _first_of(walk: Walk, name: str, other: str) -> tuple[float | None, bool]:
    known = _number(walk, name)
    if known is not None:
        return known, False
    instead = _number(walk, other)
    return instead, instead is not None


def _stands_in(by_evaporator: bool, by_condenser: bool) -> tuple[str, ...]:
    notes = []
    if by_evaporator:
        notes.append("Suction-line temperature not taken: the evaporator's outlet stands in for it.")
    if by_condenser:
        notes.append("Liquid-line temperature not taken: the condenser's outlet stands in for it.")
    return tuple(notes)


def _assumed(superheat: float | None, subcooling: float | None) -> tuple[str, ...]:
    notes = []
    if superheat is None and subcooling is None:
        notes.append("Line temperatures not taken: drawn without superheat and subcooling.")
    elif superheat is None:
        notes.append("Suction-line temperature not taken: the compressor's inlet is drawn without superheat.")
    elif superheat < 0:
        notes.append(
            "The suction line reads colder than dew (wet suction, or a wrong reading): drawn on the dome."
        )
    if subcooling is None and superheat is not None:
        notes.append("Liquid-line temperature not taken: the condenser's outlet is drawn without subcooling.")
    elif subcooling is not None and subcooling < 0:
        notes.append(
            "The liquid line reads warmer than bubble (flash gas, or a wrong reading): drawn on the dome."
        )
    return tuple(notes)


def _of_contents(walk: Walk) -> tuple[str, ...]:
    if walk.facts.get("identity") == "assumed":
        return ("The refrigerant's identity is not proved: all of this rests on it.",)
    return ()


def _number(walk: Walk, name: str) -> float | None:
    value = walk.facts.get(name)
    return float(value) if isinstance(value, float | int) else None
