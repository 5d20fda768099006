"""A small made-up flow and jobs in it, for tests of what is drawn. Numbers are of no real vehicle."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.model import (
    Choice,
    Finding,
    Flow,
    Limits,
    Reading,
    SetState,
    Step,
    Value,
)
from engine.job.events import ANSWERED, CANNOT_MEASURE
from engine.job.facts import Facts
from engine.job.state import (
    INTERRUPT,
    SKIPPED_FOR,
    WENT,
    Answer,
    Conclusion,
    NextMeasurement,
    Prompt,
    Ranked,
    RuledOut,
    Spoken,
    TrailEntry,
)
from engine.job.walk import Walk
from engine.physics.quantity import Kind, to_si


def psi(number: float) -> float:
    return to_si(number, "psi", Kind.PRESSURE)


def deg_f(number: float) -> float:
    return to_si(number, "degF", Kind.TEMPERATURE)


def _choices(*words: str) -> tuple[Choice, ...]:
    return tuple(Choice(word, word.replace("-", " ").capitalize()) for word in words)


READINGS = (
    Reading("ambient_temperature", "Ambient air", Kind.TEMPERATURE, "degF"),
    Reading("refrigerant", "Refrigerant", choices=(Choice("R-134a", "R-134a"), Choice("R-744", "R-744"))),
    Reading("refrigerant_purity", "Purity", Kind.RATIO, "percent"),
    Reading("contamination", "Contamination", choices=_choices("none", "air"), several=True, alone="none"),
    Reading("low_side", "Low-side gauge", Kind.PRESSURE, "psi"),
    Reading("high_side", "High-side gauge", Kind.PRESSURE, "psi"),
    Reading("duty", "Solenoid duty", Kind.RATIO, "percent"),
    Reading("vent_temperature", "Vent air", Kind.TEMPERATURE, "degF"),
    Reading("engine_speed", "Engine speed", Kind.SPEED, "1/min"),
    Reading(
        "suction_line_temperature",
        "Suction-line temperature",
        Kind.TEMPERATURE,
        "degF",
        how="Clamp the probe on the line near the compressor and wrap it.",
    ),
    Reading("liquid_line_temperature", "Liquid-line temperature", Kind.TEMPERATURE, "degF"),
    Reading("scan_command", "Command by scan tool", choices=_choices("minimum", "part", "maximum")),
)

SETS = (
    SetState("static", "At rest", "rest"),
    SetState("baseline", "Baseline", "moderate"),
    SetState("loaded", "Load raised", "raised", compare_with="baseline"),
    SetState("unloaded", "Load lowered", "lowered", compare_with="loaded"),
    SetState("stopped", "Stopped", "rest"),
)

RECORD = ("low_side", "high_side", "duty", "vent_temperature")

STEPS = (
    Step("weather", "The weather", ask=("ambient_temperature", "refrigerant")),
    Step("at-rest", "Pressures at rest", set="static", record=("low_side", "high_side")),
    Step("route", "Which way"),
    Step("baseline", "Baseline", set="baseline", settle=180.0, record=RECORD),
    Step("raise-load", "Raise the heat load", set="loaded", settle=180.0, record=RECORD),
    Step("lower-load", "Lower the heat load", set="unloaded", settle=180.0, record=RECORD),
    Step("wet-condenser", "Wet the condenser", do="Mist water on it."),
    Step("stop-and-cool", "Stop and cool", do="A/C off."),
    Step("weigh-up", "Weigh it up", conclude=("weak-compressor", "undercharge")),
    Step("caps-on", "Caps on", do="Caps on.", end=True),
)

FINDINGS = (
    Finding(
        "weak-compressor",
        "The compressor does not pump what it is told to",
        "It is commanded to full stroke and turns, yet the pressures stay close together.",
        rivals={"stroke-valve-stuck-low": "Pull the valve and look at its screens."},
        confirm=("Recover, weigh and refill to the label.", "Repeat the test at full command."),
        repair=("Find where the metal went before a new compressor goes in.",),
        verify=("Begin a linked job and take both loads again.",),
        note="Follow the vehicle maker's instructions and local rules.",
    ),
    Finding("undercharge", "Too little refrigerant", "It leaked.", confirm=("Recover and weigh.",)),
    Finding("stroke-valve-stuck-low", "The stroke valve is stuck low", "It stays at minimum."),
    Finding("air-in-system", "Air in the system", "Air is in it."),
    Finding("solenoid-open", "The solenoid is open", "No current can flow.", repair=("Replace it.",)),
)


def flow(**changes: object) -> Flow:
    parts: dict[str, object] = {
        "name": "sample",
        "revision": 1,
        "title": "A sample",
        "about": "For tests.",
        "start": "weather",
        "readings": {each.name: each for each in READINGS},
        "sets": {each.name: each for each in SETS},
        "cautions": {},
        "watch": (),
        "steps": {each.id: each for each in STEPS},
        "signs": {},
        "findings": {each.id: each for each in FINDINGS},
        "limits": Limits(),
        "hash": "0" * 64,
    }
    return Flow(**{**parts, **changes})  # type: ignore[arg-type]


def set_values(set_name: str, low: float, high: float, duty: float, vent: float) -> dict[str, Value]:
    """Facts of one set, typed in psi, percent and degF."""
    return {
        f"{set_name}.low_side": psi(low),
        f"{set_name}.high_side": psi(high),
        f"{set_name}.duty": duty / 100,
        f"{set_name}.vent_temperature": deg_f(vent),
    }


FACTS: Mapping[str, Value] = {
    "ambient_temperature": deg_f(85),
    "refrigerant": "R-134a",
    "static.low_side": psi(88),
    "static.high_side": psi(88),
    **set_values("baseline", 38, 175, 45, 50),
    "baseline.settled": "no",
    **set_values("loaded", 30, 215, 80, 54),
    "loaded.settled": "yes",
}


def walk(
    facts: Mapping[str, Value] = FACTS,
    prompt: Prompt | None = None,
    unknown: tuple[str, ...] = (),
    **changes: object,
) -> Walk:
    """A walk in the sample flow in which `facts` were answered and `unknown` could not be."""
    answered = {
        ("weather", 1, name): Answer(ANSWERED, ("weather", 1, name), value) for name, value in facts.items()
    }
    answered |= {("weather", 1, name): Answer(CANNOT_MEASURE, ("weather", 1, name)) for name in unknown}
    parts: dict[str, object] = {
        "flow": flow(),
        "facts": Facts(facts),
        "prompt": prompt or Prompt("raise-load", 1, "low_side"),
        "answered": answered,
        "asked": frozenset((*facts, *unknown)),
        "unknown": unknown,
    }
    return Walk(**{**parts, **changes})  # type: ignore[arg-type]


TRAIL = (
    TrailEntry("weather", 1, WENT, "at-rest"),
    TrailEntry("at-rest", 1, WENT, "route", "liquid is there at rest"),
    TrailEntry("route", 1, WENT, "baseline", "the compressor is driven"),
    TrailEntry("wet-condenser", 1, SKIPPED_FOR, "baseline", "only air-in-system is still alive"),
    TrailEntry("baseline", 1, INTERRUPT, "stop-and-cool", "the high side passed its limit"),
)

RULED_OUT = {"air-in-system": RuledOut("air-in-system", "at-rest", "the pressure at rest is on the line")}

SETTLED = Conclusion(
    finding="weak-compressor",
    step="weigh-up",
    ranked=(
        Ranked(
            "weak-compressor",
            0.84,
            (
                Spoken("one", "full command proved, little pressure rise", 12.0),
                Spoken("two", "low side high at low blower", 5.0),
                Spoken("three", "superheat is normal", 3.0),
                Spoken("four", "discharge hot", 2.0),
                Spoken("five", "the fifth is not shown", 1.5),
            ),
            (Spoken("six", "no noise", 0.5),),
        ),
        Ranked("undercharge", 0.12, (), (Spoken("seven", "subcooling is there", 0.2),)),
        Ranked("stroke-valve-stuck-low", 0.004, (), ()),
    ),
    ruled_out=(RULED_OUT["air-in-system"],),
    also="air-in-system",
    also_for=(Spoken("eight", "the high side stands over its band", 6.0),),
    next_measurement=NextMeasurement("loaded.suction_line_temperature", ("weak-compressor", "undercharge")),
)

INCONCLUSIVE = Conclusion(
    finding="inconclusive",
    step="weigh-up",
    ranked=(
        Ranked("undercharge", 0.51, (Spoken("one", "low side is low", 4.0),), ()),
        Ranked("weak-compressor", 0.40, (), ()),
    ),
    next_measurement=NextMeasurement("loaded.suction_line_temperature", ("undercharge", "weak-compressor")),
)

PROVED = Conclusion(finding="solenoid-open", step="weigh-up", proved_by="route")
