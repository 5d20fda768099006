"""What the entry panel asks for the prompt of a walk: words only, no widgets."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Reading, SetState, Step
from engine.job.events import Key
from engine.job.walk import Walk
from tui.plain import one_line
from tui.units import Units

STANDARD_ATMOSPHERE_PA = 101325.0
"""Until the job knows elevation or barometer. Source: ISO 2533, Standard Atmosphere."""


class Mode(Enum):
    """How the entry panel is laid out."""

    READ_CAUTIONS = "cautions"
    ENTRY = "entry"
    CONFIRM = "confirm"
    SETTLE = "settle"
    FINISHED = "finished"


@dataclass(frozen=True, slots=True)
class Asking:
    """One prompt in words.

    `lines` explain it, `extra` is what may be left out where there is little room; an empty `accept`
    or `cannot` means no such button.
    """

    mode: Mode
    key: Key
    title: str
    count: str = ""
    lines: tuple[str, ...] = ()
    extra: str = ""
    accept: str = ""
    cannot: str = ""
    reading: Reading | None = None
    unit: str = ""
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA
    settle: float = 0.0


def asking(walk: Walk, units: Units) -> Asking:
    """What to show for the prompt of `walk`."""
    prompt, step = walk.prompt, walk.step
    if prompt is None or step is None:
        return Asking(Mode.FINISHED, ("", 0, ""), "The job is finished")
    match prompt.item:
        case str(item) if item == ITEM_CAUTIONS:
            accept = "I have read this"
            return Asking(Mode.READ_CAUTIONS, prompt.key, "Read this before you go on", accept=accept)
        case str(item) if item == ITEM_BEGIN:
            return _begin(step, walk.flow.sets[step.set or ""], prompt.key)
        case str(item) if item == ITEM_SETTLE:
            return _settle(step, prompt.key)
        case str(item) if item == ITEM_DONE:
            cannot = "" if step.end else "Cannot do this"
            return Asking(Mode.CONFIRM, prompt.key, "Do this, then go on", accept="Done", cannot=cannot)
    return _reading(walk, step, prompt.key, units)


def duration(seconds: float) -> str:
    """Seconds as a clock shows them: `3:00`, `0:05`."""
    whole = max(0, round(seconds))
    return f"{whole // 60}:{whole % 60:02}"


def range_words(reading: Reading, units: Units) -> str:
    """The plausible range in the person's units, or nothing."""
    if reading.kind is None or reading.plausible is None:
        return ""
    low, high = (units.show_entry(end, reading) for end in (reading.plausible.low, reading.plausible.high))
    return f"Usually {low} to {high}."


def _begin(step: Step, state: SetState, key: Key) -> Asking:
    settle = duration(step.settle or 0)
    wait = f"Set the load as above, then press Enter: the settle time of {settle} min begins."
    return Asking(
        Mode.CONFIRM,
        key,
        f"Set: {one_line(state.label)}",
        lines=(wait,),
        accept="The load is set",
        cannot="Cannot set this load",
    )


def _settle(step: Step, key: Key) -> Asking:
    lines = (one_line(step.settled),) if step.settled else ()
    return Asking(
        Mode.SETTLE,
        key,
        "Let it settle",
        lines=lines,
        accept="Settled, read now",
        cannot="Read without waiting",
        settle=step.settle or 0.0,
    )


def _reading(walk: Walk, step: Step, key: Key, units: Units) -> Asking:
    name = key[2]
    reading = walk.flow.readings[name]
    names = (*step.ask, *step.record)
    asked = names.index(name) + 1 if name in names else 1
    in_set = f"{one_line(walk.flow.sets[step.set].label)} · " if step.set and name in step.record else ""
    known = walk.facts.get("atmospheric_pressure")
    texts = (reading.how, range_words(reading, units))
    lost = f"If it cannot be measured: {one_line(reading.unknown_hint)}" if reading.unknown_hint else ""
    return Asking(
        Mode.ENTRY,
        key,
        one_line(reading.label),
        count=f"{in_set}{asked} of {len(names)}" if len(names) > 1 else in_set.rstrip(" ·"),
        lines=tuple(one_line(text) for text in texts if text),
        extra=lost,
        accept="Accept",
        cannot="Cannot measure",
        reading=reading,
        unit=units.entry_unit(reading),
        atmosphere_pa=known if isinstance(known, float) else STANDARD_ATMOSPHERE_PA,
    )
