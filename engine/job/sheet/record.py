"""The record of the walk: what was acknowledged, the way taken, every answer, what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from engine.job import events as kinds
from engine.job.compare import moved
from engine.job.events import Event
from engine.job.session.told import duty_gaps
from engine.job.sheet.blocks import Block, Bullets, Table
from engine.job.sheet.teller import Teller, clean, duration
from engine.job.state import CARRIED, HANDED_OVER, INTERRUPT, RESUMED, SKIPPED_FOR, SPENT

SHORT = 50
"""Characters up to which list items stand in columns on paper."""

_HOW = {
    SKIPPED_FOR: "not needed",
    INTERRUPT: "interrupted",
    RESUMED: "back to what was interrupted",
    SPENT: "done often enough",
    CARRIED: "not asked again",
    HANDED_OVER: "handed over to",
}


def cautions(teller: Teller) -> Iterator[Block]:
    """Every caution that was acknowledged, with its words, and where and when."""
    read: dict[str, list[str]] = {}
    for event in teller.live(kinds.ACKNOWLEDGED):
        step = teller.flow.steps.get(event.step)
        for name in event.detail.get("ids") or (step.cautions if step else ()):
            read.setdefault(name, []).append(f"{teller.hour(event.at)} {teller.step(event.step)}")
    rows = []
    for name, times in read.items():
        caution = teller.flow.cautions.get(name)
        if caution is not None:
            told = f"{caution.signal}: {clean(caution.text)} (Source: {clean(caution.source)})"
            rows.append((told, "; ".join(times)))
    if rows:
        yield Table(("Caution", "Acknowledged"), tuple(rows))


def way(teller: Teller) -> Iterator[Block]:
    """The steps passed, in order, and why each led on to the next."""
    rows = []
    for entry in teller.walk.trail:
        step = teller.flow.steps.get(entry.step)
        asks_nothing = step is not None and step.is_junction
        if asks_nothing and not entry.because:
            continue
        told = ": ".join(part for part in (_HOW.get(entry.how, ""), clean(entry.because)) if part)
        title = teller.step(entry.step) + (f" (visit {entry.visit})" if entry.visit > 1 else "")
        rows.append((title, told, teller.step(entry.to) if entry.to else "the end"))
    if rows:
        yield Table(("Step", "Why it went on", "To"), tuple(rows))


def as_typed(teller: Teller) -> Iterator[Block]:
    """Each reading on the path: as typed, and as understood."""
    rows = []
    for (_, _, item), answer in teller.walk.answered.items():
        if answer.kind != kinds.ANSWERED:
            continue
        name = teller.flow.full_name(answer.key[0], item)
        typed = clean(answer.text) + (
            f" [{answer.unit}]" if answer.unit and answer.unit not in answer.text else ""
        )
        time = teller.hour(answer.at) if answer.at else ""
        rows.append((teller.label(name, answer.key[0]), typed, teller.value(name, answer.value), time))
    if rows:
        yield Table(("Reading", "As typed", "Understood", "Time"), tuple(rows))


def missing(teller: Teller) -> Iterator[Block]:
    """What was not measured, not waited for, not done, and what should be doubted."""
    yield from _bullets("Could not be measured", [teller.label(name) for name in teller.walk.unknown])
    yield from _bullets("Settle time cut short", [_cut_short(teller, event) for event in _cut(teller)])
    skipped = teller.live(kinds.SKIPPED)
    yield from _bullets("Could not be done", [teller.step(event.step) for event in skipped])
    yield from _bullets("Unusual values, accepted as given", list(_unusual(teller)))
    yield from _bullets("Readings that disagree", [clean(told) for told in duty_gaps(teller.walk).values()])
    held = [
        f"{teller.step(event.step)}, said at {teller.hour(event.at)}" for event in _all(teller, kinds.HELD)
    ]
    yield from _bullets("Set open for long, its state said to hold", held)


def predictions(teller: Teller) -> Iterator[Block]:
    """What a learner predicted, against what happened."""
    rows = []
    for event in _all(teller, kinds.PREDICTED):
        step = teller.flow.steps.get(event.step)
        for reading, way_said in event.detail.items():
            if step is None or step.set is None:
                continue
            name = f"{step.set}.{reading}"
            happened = _happened(teller, event.step, step.set, reading)
            verdict = "not read" if happened is None else "right" if happened == way_said else "otherwise"
            rows.append((teller.label(name, event.step), clean(str(way_said)), happened or "", verdict))
    if rows:
        yield Table(("Reading", "Predicted", "Happened", "So"), tuple(rows))


def notes(teller: Teller) -> Iterator[Block]:
    """Free text of the person's."""
    items = [f"{teller.hour(event.at)}: {clean(event.text)}" for event in _all(teller, kinds.NOTED)]
    yield from _bullets("", items)


def withdrawn(teller: Teller) -> Iterator[Block]:
    """Readings that were given and taken back."""
    rows, given = [], dict[kinds.Key, Event]()
    for event in teller.events:
        if event.kind in (kinds.ANSWERED, kinds.CANNOT_MEASURE):
            given[event.key] = event
        elif event.kind == kinds.WITHDRAWN and event.key in given:
            first = given.pop(event.key)
            name = teller.event_name(first)
            told = clean(first.text) or "could not be measured"
            label = teller.label(name, first.step)
            rows.append((label, told, teller.hour(first.at), teller.hour(event.at)))
    if rows:
        yield Table(("Reading", "As first given", "Given", "Taken back"), tuple(rows))


def _all(teller: Teller, kind: str) -> list[Event]:
    return [event for event in teller.events if event.kind == kind]


def _bullets(title: str, items: list[str]) -> Iterator[Block]:
    if items:
        yield Bullets(title, tuple(items), short=all(len(item) < SHORT for item in items))


def _cut(teller: Teller) -> list[Event]:
    return [event for event in teller.live(kinds.SETTLED) if event.detail.get("kept") is False]


def _cut_short(teller: Teller, event: Event) -> str:
    step = teller.flow.steps.get(event.step)
    waited = event.detail.get("waited")
    told = duration(waited) if isinstance(waited, (int, float)) else "not known how long"
    needed = f" of {duration(step.settle)}" if step and step.settle else ""
    return f"{teller.step(event.step)}: waited {told}{needed}"


def _unusual(teller: Teller) -> Iterator[str]:
    for (step, _, item), answer in teller.walk.answered.items():
        reading = teller.flow.readings.get(item)
        if reading is None or reading.plausible is None or not isinstance(answer.value, (int, float)):
            continue
        if not reading.plausible.low <= answer.value <= reading.plausible.high:
            name = teller.flow.full_name(step, item)
            yield f"{teller.label(name, step)}: {teller.value(name, answer.value)}"


def _happened(teller: Teller, step: str, set_name: str, reading: str) -> str | None:
    walk = teller.walk.at(step)
    other = walk.flow.sets[set_name].compare_with
    kind = teller.kind(reading)
    now = walk.facts.get(f"{set_name}.{reading}")
    before = walk.facts.get(f"{other}.{reading}") if other else None
    if kind is None or not isinstance(now, float) or not isinstance(before, float):
        return None
    return moved(kind, before, now).direction
