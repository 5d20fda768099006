"""The sets of a job side by side: what was read, what follows from it, and how it moved from set to set.

Values stay SI (gauge pressures stay gauge) and nothing here is formatted; the board of the screen and the job
sheet draw the same model.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.flow.computed import COMPUTED
from engine.flow.model import ITEM_BEGIN, Flow, Value
from engine.physics.quantity import Kind, difference_of
from engine.physics.units import PSI

if TYPE_CHECKING:
    from engine.job.walk import Walk

UP, DOWN, SAME = "up", "down", "same"
KNOWN, NOW, NOT_ASKED, CANNOT_MEASURE = "known", "now", "not-asked", "cannot-measure"
"""What stands in a cell: a value, the question being asked, nothing yet, or an answer that there is none."""

BANDS = {"low_side": "low_side_band", "high_side": "high_side_band", "vent_temperature": "vent_band"}
"""Readings that are judged against what a healthy vehicle reads, and the computed name that says how."""

HEAD = (
    *("ambient_temperature", "relative_humidity", "refrigerant", "identity", "expansion_device"),
    *("stroke_control", "solenoid_resistance_20", "solenoid_class", "static_charge", "high_side_limit"),
)
"""Facts of the job without which no set can be read, in the order they are told."""

FRONT = (
    *("low_side", "high_side", "duty", "command_state", "vent_temperature", "condensing_over_ambient"),
    *("condensing_temperature", "evaporating_temperature", "superheat", "subcooling", "pressure_ratio"),
)
"""Rows that stand first; the others follow in the flow's order."""

_HIDDEN = {*BANDS.values(), "settled", "sides_apart"}

_STILL = {
    Kind.PRESSURE_DIFFERENCE: 2 * PSI,  # the settle rule: low side under 2 psi a minute
    Kind.TEMPERATURE_DIFFERENCE: 0.5,  # the settle rule: vent under 0.5 K a minute
    Kind.RATIO_DIFFERENCE: 0.03,  # the gap between two ways to read a duty that is worth reporting
}
"""Smaller changes are the reading's own unrest, no movement (common practice, no published source)."""

_STILL_SHARE = 0.02
"""For any other quantity: two hundredths of the earlier value (our choice, no published source)."""


@dataclass(frozen=True, slots=True)
class Move:
    """How a value changed from the compared set; `by` is signed, SI of `kind`, a kind of difference."""

    direction: str
    by: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Cell:
    """One value of one set. `band` is low, normal, high or None; `move` None where nothing is compared."""

    state: str
    value: Value | None = None
    band: str | None = None
    move: Move | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One name across all columns. `words` gives a choice's label."""

    name: str
    label: str
    kind: Kind | None
    computed: bool
    words: dict[str, str]
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A set. `early`: its settle time was not kept; `compared_with`: the label of the other set."""

    name: str
    label: str
    load: str
    current: bool
    early: bool
    compared_with: str | None


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact of the job; `value` None means that it cannot be measured."""

    name: str
    label: str
    kind: Kind | None
    value: Value | None
    words: dict[str, str]


@dataclass(frozen=True, slots=True)
class BoardModel:
    facts: tuple[Fact, ...]
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


def moved(kind: Kind, before: float, after: float) -> Move:
    """How a value of `kind` moved, in SI: temperatures differ in kelvin, ratios in points, without offset."""
    by = after - before
    difference = difference_of(kind)
    still = _STILL.get(difference, _STILL_SHARE * abs(before))
    direction = SAME if abs(by) < still * (1 - 1e-9) else UP if by > 0 else DOWN
    return Move(direction, by, difference)


def board(walk: Walk) -> BoardModel:
    """The board of a walk: every set begun, in the flow's order, and the set being taken."""
    begun = sets_begun(walk)
    return BoardModel(
        facts=tuple(_facts(walk)),
        columns=tuple(_column(walk, name) for name in begun),
        rows=tuple(_rows(walk, begun)),
    )


def sets_begun(walk: Walk) -> tuple[str, ...]:
    """Names of the sets that were begun or asked for, in the flow's order."""
    steps = walk.flow.steps
    seen = {name.partition(".")[0] for name in walk.asked if "." in name}
    earlier = walk.before.answered if walk.before is not None else {}
    seen |= {steps[key[0]].set or "" for key in walk.answered if key[2] == ITEM_BEGIN and key not in earlier}
    seen.add(walk.current_set or "")
    return tuple(name for name in walk.flow.sets if name in seen)


def _facts(walk: Walk) -> Iterable[Fact]:
    for name in HEAD:
        value = walk.facts.get(name)
        if value is None and name not in walk.unknown:
            continue
        label, kind, words = _told(walk.flow, name)
        yield Fact(name, label, kind, value, words)


def _column(walk: Walk, name: str) -> Column:
    state = walk.flow.sets[name]
    other = walk.flow.sets.get(state.compare_with or "")
    return Column(
        name=name,
        label=state.label,
        load=state.load,
        current=name == walk.current_set,
        early=walk.facts.get(f"{name}.settled") == "no",
        compared_with=other.label if other is not None else None,
    )


def _rows(walk: Walk, begun: tuple[str, ...]) -> Iterable[Row]:
    names = dict.fromkeys((*FRONT, *walk.flow.readings, *_computed_in_sets()))
    empty: list[Row] = []  # what could not be measured in any set goes last
    for name in names:
        cells = tuple(_cell(walk, set_name, name) for set_name in begun)
        if not any(_worth_showing(walk, name, cell) for cell in cells):
            continue
        label, kind, words = _told(walk.flow, name)
        row = Row(name, label, kind, name not in walk.flow.readings, words, cells)
        if any(cell.state in (KNOWN, NOW) for cell in cells):
            yield row
        else:
            empty.append(row)
    yield from empty


def _computed_in_sets() -> Iterable[str]:
    return (name for name, what in COMPUTED.items() if what.scope == "set" and name not in _HIDDEN)


def _worth_showing(walk: Walk, name: str, cell: Cell) -> bool:
    # A computed row full of question marks tells nothing that its readings do not tell already.
    return cell.state == KNOWN or (cell.state != NOT_ASKED and name in walk.flow.readings)


def _cell(walk: Walk, set_name: str, name: str) -> Cell:
    if name not in walk.flow.readings and walk.flow.sets[set_name].load == "rest":
        return Cell(NOT_ASKED)  # with the compressor at rest there is no condensing, no superheat, no command
    value = walk.facts.get(f"{set_name}.{name}")
    if value is None:
        return Cell(_why_empty(walk, set_name, name))
    return Cell(KNOWN, value, _band(walk, set_name, name), _move(walk, set_name, name, value))


def _why_empty(walk: Walk, set_name: str, name: str) -> str:
    full = f"{set_name}.{name}"
    if walk.prompt is not None and walk.full_name(walk.prompt.item) == full:
        return NOW
    needs = COMPUTED[name].full_needs(set_name) if name in COMPUTED else ()
    return CANNOT_MEASURE if any(need in walk.unknown for need in (full, *needs)) else NOT_ASKED


def _band(walk: Walk, set_name: str, name: str) -> str | None:
    """Bands say what a healthy vehicle reads while it runs; at rest there is nothing to compare with."""
    if name not in BANDS or walk.flow.sets[set_name].load == "rest":
        return None
    band = walk.facts.get(f"{set_name}.{BANDS[name]}")
    return band if isinstance(band, str) else None


def _move(walk: Walk, set_name: str, name: str, value: Value) -> Move | None:
    other = walk.flow.sets[set_name].compare_with
    before = walk.facts.get(f"{other}.{name}") if other is not None else None
    kind = _told(walk.flow, name)[1]
    if kind is None or not isinstance(value, float | int) or not isinstance(before, float | int):
        return None
    return moved(kind, before, value)


def _told(flow: Flow, name: str) -> tuple[str, Kind | None, dict[str, str]]:
    """Label, kind and choice labels of a reading or a computed name."""
    reading = flow.readings.get(name)
    if reading is not None:
        return reading.label, reading.kind, {choice.word: choice.label for choice in reading.choices}
    what = COMPUTED[name]
    return what.label, what.kind, {}
