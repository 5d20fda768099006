"""A small flow that lint has nothing against, and what it says once one place is changed."""

from __future__ import annotations

import tempfile
from pathlib import Path

from engine.flow.lint.run import lint
from engine.flow.problem import Problem
from tests.engine.flow.small import changed

CLEAN = """\
format: 1
flow: clean
revision: 1
title: Does it answer the load?
about: A made-up flow for tests.
start: look

readings:
  drive: {label: Drive, choices: {belt: Belt, electric: Electric}}
  scan_tool: {label: Scan tool, choices: {yes: Y, no: N}}
  codes: {label: Codes, choices: {none: None, charge: Charge, wire: Wire}, several: true, alone: none, ask_if: scan_tool is yes}
  ambient_temperature: {label: Ambient, quantity: temperature, unit: degC, possible: -40 to 60 degC}
  limit: {label: Limit of the high side, quantity: pressure, unit: psi}
  low_side: {label: Low-side gauge, quantity: pressure, unit: psi}
  high_side: {label: High-side gauge, quantity: pressure, unit: psi}
  gap: {label: Gap, quantity: temperature_difference, unit: K}

sets:
  baseline: {label: Baseline, load: moderate}
  loaded: {label: Load raised, load: raised, compare_with: baseline}

cautions:
  burst: {signal: WARNING, exposure: pressurised, text: A hose can burst and injure eyes., source: made up}
  belt: {signal: WARNING, exposure: rotating, text: Belts catch sleeves., source: made up}
  keep: {signal: NOTICE, text: Recover what is inside. Never vent the refrigerant., source: made up}

watch:
  - {name: too-high, when: high_side >= limit, because: The limit is reached., go: judge}

steps:
  look:
    title: Look
    do: Look at the car.
    ask: [drive, scan_tool, codes, ambient_temperature, limit, gap]
    next:
      - {when: drive is electric, go: judge}
      - {when: gap < 3 K, go: gauges}
      - {when: gap >= 3 K and gap < 9 K, go: gauges}
      - unknown: gauges
      - otherwise: gauges
  gauges:
    title: Gauges on
    do: Zero both gauges, then connect them.
    exposure: [pressurised]
    cautions: [keep]
    next: base
  base:
    title: Baseline
    do: Let it run.
    exposure: [pressurised, rotating]
    set: baseline
    settle: 2 min
    record: [low_side, high_side]
    next: more
  more:
    title: More load
    do: Open the doors.
    exposure: [pressurised, rotating]
    set: loaded
    settle: 3 min
    record: [low_side, high_side]
    next: judge
  judge:
    title: Weigh up
    conclude: [fine, weak]
    next: off
  off:
    title: Gauges off
    do: Engine off. Take the gauges off.
    exposure: [pressurised]
    end: true

signs:
  answers:
    when: loaded.high_side - baseline.high_side >= 15 psi
    says: the high side rose
    weighs: {fine: [5, 0.2], weak: [0.2, 2]}

findings:
  fine: {title: Fine, means: It works.}
  weak: {title: Weak, means: It pumps too little.}
"""  # noqa: E501 (a reading a line reads best)

WAIVE = "start: look\nwaive:\n"


def told(text: str = CLEAN, words: tuple[str, ...] = (), **parts: str) -> list[Problem]:
    """All that lint says of a flow; parts are named without their ending."""
    with tempfile.TemporaryDirectory() as folder:
        for name, content in parts.items():
            (Path(folder) / f"{name}.yaml").write_text(content, encoding="utf-8")
        path = Path(folder) / "clean.yaml"
        path.write_text(text, encoding="utf-8")
        return lint(path, words)


def told_of(*changes: tuple[str, str], words: tuple[str, ...] = ()) -> list[tuple[str | None, str]]:
    """Rule and text of all that lint says of the clean flow with these changes."""
    return [(one.rule, one.what) for one in told(changed(*changes, text=CLEAN), words)]


def rules_of(*changes: tuple[str, str]) -> set[str | None]:
    """The rules that warn of the clean flow with these changes; None for an error."""
    return {rule for rule, _ in told_of(*changes)}
