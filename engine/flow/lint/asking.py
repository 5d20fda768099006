"""Readings asked twice, and names used on a way on which nobody asked them yet."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.check.checking import way_words
from engine.flow.graph import path
from engine.flow.lint.may import MayAsked
from engine.flow.lint.places import READING, WATCH, Spot, spots, step_spots
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.model import Step

AT_REST = "rest"


def _twice(linting: Linting) -> Iterator[Found]:
    asked = linting.asked
    for name, step in linting.flow.steps.items():
        if not asked.visited(name):
            continue
        have = asked.on_entering(name)
        for key, number, reading, full in _prompts(step):
            if have & asked.mask(frozenset({full})):
                place = linting.entry("steps", name).place(key, number)
                what = f"step '{name}' asks '{full}' again, which every way there has asked before"
                yield Found(place, what, "delete it here or there", (name, reading, full))


def _prompts(step: Step) -> Iterator[tuple[str, int, str, str]]:
    """Key, number, reading and full name of everything a step asks, in order."""
    for number, name in enumerate(step.ask):
        yield "ask", number, name, name
    for number, name in enumerate(step.record):
        yield "record", number, name, f"{step.set}.{name}"


def _too_early(linting: Linting) -> Iterator[Found]:
    yield from _guarded(linting)
    yield from _ask_ifs(linting)
    yield from _watched(linting)


def _guarded(linting: Linting) -> Iterator[Found]:
    """`known NAME` in a rule of a step before which no way asks the name: loading lets it pass."""
    may = MayAsked(linting)
    for spot in step_spots(linting):
        for name in spot.condition.names:
            if name in spot.condition.guarded and not may.be_known(name, spot.name):
                what = f"{spot.words} tests 'known {name}', but no way there asks it before"
                yield Found(spot.place(name), what, "ask it before, or test it later", (spot.name, name))


def _ask_ifs(linting: Linting) -> Iterator[Found]:
    """A reading is asked although what decides whether it is needed may not have been asked yet."""
    askers = _askers(linting)
    for spot in spots(linting):
        if spot.kind != READING:
            continue
        for step in askers.get(spot.name, ()):
            yield from _unready(linting, spot, step)


def _unready(linting: Linting, spot: Spot, step: Step) -> Iterator[Found]:
    prompts = [(reading, full) for _, _, reading, full in _prompts(step)]
    at = next(number for number, (reading, _) in enumerate(prompts) if reading == spot.name)
    before = {full for _, full in prompts[:at]}
    for name in _unguarded(spot):
        missing = _missing(linting, step, name, before)
        if missing:
            what = f"step '{step.id}' asks '{spot.name}' before '{name}', on which its 'ask_if' hangs"
            if missing != [step.id]:
                what += f" (on the way {way_words(missing)})"
            place = linting.entry("steps", step.id).place("ask" if spot.name in step.ask else "record")
            yield Found(place, what, f"ask '{name}' first", (step.id, spot.name, name))


def _watched(linting: Linting) -> Iterator[Found]:
    """A watch rule is blind at a running set where the limit it compares with was not asked."""
    for spot in spots(linting):
        if spot.kind == WATCH:
            yield from _blind(linting, spot)


def _blind(linting: Linting, spot: Spot) -> Iterator[Found]:
    flow = linting.flow
    recorded = {name for step in flow.steps.values() for name in step.record}
    seen = [name for name in spot.condition.names if name in recorded]
    limits = [name for name in _unguarded(spot) if name in flow.readings and name not in recorded]
    for name in limits:
        for step in flow.steps.values():
            if not _runs(linting, step) or not set(seen) & set(step.record):
                continue
            way = _missing(linting, step, name, set(step.ask))
            if way:
                what = f"{spot.words} is blind in step '{step.id}': '{name}' is not asked on the way"
                hint = "ask it before, or add a rule for 'not known " + name + "'"
                place = spot.place(name)
                yield Found(place, f"{what} {way_words(way)}", hint, (spot.name, step.id, name))
                break


def _runs(linting: Linting, step: Step) -> bool:
    """The step takes a set while something runs."""
    return bool(step.record) and step.set is not None and linting.flow.sets[step.set].load != AT_REST


def _missing(linting: Linting, step: Step, name: str, before: set[str]) -> list[str]:
    """A way to the step on which `name` is not asked, though some step asks it; empty if there is none."""
    asked = linting.asked
    if not asked.visited(step.id):
        return []
    for group in linting.needs.of(name):
        mask = asked.mask(group.names)
        if not group.hard or not mask or group.names & before or asked.on_entering(step.id) & mask:
            continue
        return path(
            linting.edges,
            linting.flow.start,
            step.id,
            lambda at, edge, mask=mask: not asked.brings(at, edge, mask),  # type: ignore[misc]
        ) or [step.id]
    return []


def _unguarded(spot: Spot) -> Iterator[str]:
    return (name for name in spot.condition.names if name not in spot.condition.guarded)


def _askers(linting: Linting) -> dict[str, list[Step]]:
    """Steps by the readings they ask."""
    found: dict[str, list[Step]] = {}
    for step in linting.flow.steps.values():
        for name in (*step.ask, *step.record):
            found.setdefault(name, []).append(step)
    return found


ASKED_TWICE = Rule(
    "asked-twice",
    "What was asked on every way before costs time to ask again, and two answers can disagree.",
    "Ask it once; where the state has changed since, waive this and say what changed.",
    _twice,
)
USED_EARLY = Rule(
    "used-before-asked",
    "A name that nobody has been asked for yet is unknown there, so what hangs on it cannot work.",
    "Ask it in a step before, on every way that leads there.",
    _too_early,
)
