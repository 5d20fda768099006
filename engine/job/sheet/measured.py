"""What was measured: conditions, refrigerant, the sets beside each other, the command at light load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from engine.job.compare import (
    CANNOT_MEASURE,
    DOWN,
    KNOWN,
    SAME,
    BoardModel,
    Cell,
    Column,
    board,
    moved,
    sets_begun,
)
from engine.job.sheet.blocks import Blanks, Block, Lines, Table, Text
from engine.job.sheet.teller import NOT_MEASURED, Teller, clean
from engine.physics.quantity import Kind, show

_CONDITIONS = (
    *("ambient_temperature", "relative_humidity", "elevation", "barometric_pressure", "atmospheric_pressure"),
    *("ambient_dew_point", "soaked", "condenser_air_temperature", "refrigerant", "refrigerant_purity"),
    *("contamination", "identity", "expansion_device", "internal_heat_exchanger", "stroke_control"),
    *("solenoid_resistance_20", "solenoid_class", "static_charge", "high_side_limit", "low_side_limit"),
)
"""Facts of the job, in the order in which they decide how a reading is read; those not known are left out."""

_COMMANDS = {
    "minimum": "at its minimum",
    "part": "at part stroke",
    "ceiling": "at its ceiling",
}


def conditions(teller: Teller) -> Iterator[Block]:
    """The conditions and the kind of system."""
    lines = [(teller.label(name), teller.fact(name)) for name in _CONDITIONS]
    known = tuple((label, told) for label, told in lines if told is not None)
    if known:
        yield Lines(known)


def refrigerant(teller: Teller) -> Iterator[Block]:
    """Grams out and in, and how the leak was searched."""
    names = (
        "label_charge",
        "recovered_charge",
        "charge_share",
        "recharged_to_label",
        "leak_found",
        "leak_method",
    )
    lines = [
        ("Charge on the label" if name == "label_charge" else teller.label(name), _mass(teller, name))
        for name in names
        if name in teller.flow.readings or teller.fact(name) is not None
    ]
    if not lines:
        lines = [("Recovered", NOT_MEASURED)]
    yield Lines(tuple(lines))
    blanks = ["Grams in", "Oil out, oil in"]
    if teller.fact("recovered_charge") is None:
        blanks.insert(0, "Grams out")
    if teller.fact("leak_method") is None:
        blanks.append("Leak method, and where")
    yield Blanks(tuple(blanks))


def sets(teller: Teller) -> Iterator[Block]:
    """The sets beside each other with what follows from them, a table for each flow that took its own."""
    later = frozenset[str]()
    for walk in teller.walks:
        own = replace(teller, walk=walk)
        if not later.issuperset(sets_begun(walk)):
            if walk is not teller.walk:
                yield Text(f"Read before, in: {clean(walk.flow.title)}")
            yield from _table(own, board(walk))
        later = frozenset(name.partition(".")[0] for name in walk.carried)


def _table(teller: Teller, model: BoardModel) -> Iterator[Block]:
    if not model.columns or not model.rows:
        return
    rows = []
    for row in model.rows:
        told = [
            _cell(teller, column, row.name, cell)
            for column, cell in zip(model.columns, row.cells, strict=True)
        ]
        rows.append((clean(row.label) + (" (computed)" if row.computed else ""), *told))
    yield Table(("Reading", *(_column(column) for column in model.columns)), tuple(rows))
    compared = [column for column in model.columns if column.compared_with]
    if compared:
        yield Text(
            "Up and down: "
            + "; ".join(f"{clean(one.label)} against {clean(one.compared_with or '')}" for one in compared)
            + ". Low, normal and high: against what a healthy vehicle reads in the same conditions."
        )
    fixed = [
        (clean(teller.flow.sets[column.name].label), clean(" ".join(teller.flow.sets[column.name].fixed)))
        for column in model.columns
        if teller.flow.sets[column.name].fixed
    ]
    if fixed:
        yield Lines(tuple(fixed))


def command(teller: Teller) -> Iterator[Block]:
    """Whether the command came back to part stroke when the load was lowered."""
    if "unloaded" not in teller.flow.sets:
        return
    yield Lines((("Back to part stroke at light load", _back(teller)),))


def _back(teller: Teller) -> str:
    low, high = _command(teller, "unloaded"), _command(teller, "loaded")
    if low is None:
        return "not measured"
    beside = f" (with the load raised: {high})" if high else ""
    return f"{_back_in_a_word(teller)}: {low}{beside}"


def _back_in_a_word(teller: Teller) -> str:
    """By the state of the command if it is known, else by which way the duty went."""
    state = teller.walk.facts.get("unloaded.command_state")
    if state is not None:
        return "no" if state == "ceiling" else "yes"
    low, high = (teller.walk.facts.get(f"{name}.duty") for name in ("unloaded", "loaded"))
    if not isinstance(low, float) or not isinstance(high, float):
        return "cannot be told"
    return (
        "the duty came down"
        if moved(Kind.RATIO, high, low).direction == DOWN
        else "the duty did not come down"
    )


def _command(teller: Teller, set_name: str) -> str | None:
    """Command state and duty of a set, None if neither is known."""
    state = teller.walk.facts.get(f"{set_name}.command_state")
    duty = teller.fact(f"{set_name}.duty")
    told = [_COMMANDS.get(str(state), str(state))] if state is not None else []
    if duty is not None:
        told.append(f"duty {duty}")
    return ", ".join(told) or None


def _mass(teller: Teller, name: str) -> str:
    """A mass in grams, as machines weigh it, and in the reader's unit if that is another."""
    value = teller.walk.facts.get(name)
    told = teller.value(name, value) if value is not None else "not recorded"
    if teller.kind(name) is not Kind.MASS or not isinstance(value, float):
        return told
    grams = show(value, Kind.MASS, "g")
    return grams if grams == told else f"{grams} ({told})"


def _column(column: Column) -> str:
    return clean(column.label) + (", read before it had settled" if column.early else "")


def _cell(teller: Teller, column: Column, name: str, cell: Cell) -> str:
    if cell.state == CANNOT_MEASURE:
        return "not measured"
    if cell.state != KNOWN or cell.value is None:
        return ""
    told = teller.value(f"{column.name}.{name}", cell.value)
    if cell.band is not None:
        told += f", {cell.band}"
    if cell.move is None:
        return told
    if cell.move.direction == SAME:
        return f"{told}; same"
    return f"{told}; {cell.move.direction} {teller.units.show(abs(cell.move.by), cell.move.kind)}"
