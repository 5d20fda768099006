"""A small correct flow that uses the whole language, and ways to break it in one place."""

# ruff: noqa: E501 (the flow is kept short)

from __future__ import annotations

from engine.flow.load import load_bundle
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem

FLOW = """\
format: 1
flow: small
revision: 3
title: Does it answer the load?
about: A made-up flow for tests.
start: weather
settled: Nothing moves for a minute.
limits: {settled: 0.7, lead: 3}

readings:
  ambient_temperature: {label: Ambient, quantity: temperature, unit: degC, plausible: -20 to 50 degC}
  high_side_limit: {label: Limit, quantity: pressure, unit: psi}
  refrigerant:
    label: Refrigerant
    choices: {R-134a: R-134a, other: Something else}
  contamination:
    label: Contamination
    choices: {none: None, air: Air, sealant: Sealant}
    several: true
    alone: none
  low_side: {label: Low side, quantity: pressure, unit: psi, plausible: -15 to 160 psi}
  high_side: {label: High side, quantity: pressure, possible: 0.5 to 4 MPa, how: Read it., unknown: A pity.}
  duty: {label: Duty, quantity: ratio, possible: 0 to 100 percent}
  fan: {label: Fan, choices: {runs: Runs, stopped: Stopped}}

sets:
  baseline: {label: Baseline, load: moderate, speed: 1500 1/min, fixed: [Doors shut.]}
  loaded: {label: Loaded, load: raised, compare_with: baseline, predict: [low_side, duty]}

cautions:
  eyes: {signal: CAUTION, exposure: pressurised, text: Wear goggles., source: 'common practice, no published source'}
  burst: {signal: DANGER, exposure: pressurised, text: It can burst., source: ISO 13043}
  belt: {signal: WARNING, exposure: rotating, text: Keep clear., source: 'common practice, no published source'}
  note: {signal: NOTICE, text: Write it down., source: our own}

watch:
  - name: limit
    when: high_side >= high_side_limit
    because: The limit is reached.
    go: cool
    again: stop

steps:
  weather:
    title: The day
    do: Take the temperature.
    ask: [ambient_temperature, high_side_limit, refrigerant, contamination]
    next:
      - {when: contamination is sealant|air, go: stop}
      - unknown: base
      - otherwise: base
  base:
    title: Baseline
    do: Let it run.
    why: To compare.
    how: [Shut the doors., Wait.]
    exposure: [rotating, pressurised]
    cautions: [note]
    set: baseline
    settle: 2 min
    record: [low_side, high_side, duty]
    next: more-load
  more-load:
    title: More load
    do: Open the doors.
    exposure: [pressurised]
    set: loaded
    settle: 3 min
    settled: The vent stands still.
    ask: [fan]
    record: [low_side, high_side, duty]
    at_most: 2
    then: judge
    next:
      - when: loaded.high_side - baseline.high_side >= 15 psi and loaded.duty - baseline.duty > 5 points
        rule_out: [stuck]
        because: it answered the load
      - {when: ambient_temperature < 18 degC and not known loaded.duty, go: more-load}
      - unknown: speed
      - otherwise: speed
  speed:
    title: Speed
    do: Rev it.
    for: [weak, stuck]
    skip_to: judge
    next: judge
  judge:
    title: Weigh up
    conclude: all
    next: caps
  stop:
    title: Stop
    proved: wrong-gas
    next: caps
  caps:
    title: Caps on
    do: Put the caps on.
    end: true
  cool:
    title: Let it cool
    do: Switch off, wait.
    exposure: [pressurised]
    next: resume

signs:
  answers:
    when: loaded.high_side - baseline.high_side >= 15 psi
    says: the high side rose with the load
    weighs: {fine: [5, 0.2], weak: against fair, stuck: [against strong, slight]}
  fan-off:
    when: fan is stopped
    says: the fan stands
    source: plain
    weighs: {fine: 0.5}

findings:
  fine: {title: No fault, means: It works., prior: 4}
  part: {title: Part stroke, means: It works a little., same_as: fine, told_when: loaded.duty < 60 percent}
  weak:
    title: Weak
    means: It pumps too little.
    prior: 0.5
    rivals: {stuck: Raise the speed.}
    confirm: [Weigh the charge.]
    repair: [Replace it.]
    verify: [Measure again.]
    note: The maker's instructions come first.
  stuck: {title: Stuck, means: The valve does not move.}
  wrong-gas: {title: Wrong gas, means: Not what the label says., prior: 0}
  inconclusive: {title: Not settled, means: More is needed., prior: 0}
"""


def load(text: str = FLOW, name: str = "small.yaml", **parts: str) -> Flow:
    """The flow in a text."""
    files = {name: text.encode(), **{part: content.encode() for part, content in parts.items()}}
    return load_bundle(files, name)


def changed(*changes: tuple[str, str], text: str = FLOW) -> str:
    """The flow with each first text replaced by the second; the first must be there once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} is there {text.count(old)} times"
        text = text.replace(old, new)
    return text


def problems(text: str) -> list[Problem]:
    """What is wrong with a flow; empty if nothing."""
    try:
        load(text)
    except FlowErrors as errors:
        return list(errors.problems)
    return []


def spot(text: str, snippet: str, into: int = 0) -> tuple[int, int]:
    """Line and column (from 1) where a snippet stands, found without the loader."""
    assert text.count(snippet) == 1, f"{snippet!r} is there {text.count(snippet)} times"
    before = text[: text.index(snippet) + into]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def only_problem(text: str) -> Problem:
    """The one problem of a flow."""
    found = problems(text)
    assert len(found) == 1, "\n".join(map(str, found))
    return found[0]
