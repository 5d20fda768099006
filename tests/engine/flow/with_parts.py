"""A made-up flow that takes a run of steps, readings, findings and signs from parts."""

from __future__ import annotations

from textwrap import dedent

from engine.flow.load import load_bundle
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem

MAIN = """\
format: 1
flow: small
revision: 1
title: T
about: A
start: first
use:
  - parts/shared.yaml
  - {part: parts/look.yaml, exits: {seen: done, hidden: ask-again}}
readings:
  tired: {label: Tired, choices: {yes: Y, no: N}}
steps:
  first: {title: F, do: Ask., ask: [tired], next: look}
  ask-again: {title: A, do: Ask again., ask: [wet], next: done}
  done: {title: D, conclude: all}
signs:
  own: {when: tired is yes, says: tired, weighs: {fine: 0.5}}
"""

SHARED = """\
readings:
  hot: {label: Hot, choices: {yes: Y, no: N}}
  wet: {label: Wet, choices: {yes: Y, no: N}}
  low_side: {label: Low, quantity: pressure, ask_if: elsewhere is yes}
findings:
  fine: {title: F, means: M, prior: 2, rivals: {unheard: Ask elsewhere.}}
  bad: {title: B, means: M}
  warm: {title: W, means: M, same_as: fine, told_when: hot is yes}
  odd: {title: O, means: M, same_as: fine, told_when: loaded.low_side > 20 psi}
  inconclusive: {title: I, means: M, prior: 0}
sets:
  loaded: {label: L, load: raised, compare_with: nowhere}
signs:
  heat: {when: hot is yes, says: it is hot, weighs: {bad: 5, unheard: 3}}
  side: {when: loaded.low_side > 20 psi, says: the side is high, weighs: {bad: 5}}
  dry: {when: wet is no or low_side > 20 psi, says: dry, weighs: {bad: 2}}
  else: {when: hot is no, says: not hot, weighs: {unheard: 3}}
"""

LOOK = """\
start: look
exits: {seen: It was seen., hidden: It is behind something.}
steps:
  look:
    title: L
    do: Look.
    ask: [hot]
    for: [bad, unheard]
    skip_to: seen
    at_most: 2
    then: hidden
    next:
      - {when: hot is yes, rule_out: [unheard], because: it was hot}
      - {when: hot is yes, rule_out: [bad, unheard], because: it was hot, go: nearer}
      - unknown: hidden
      - otherwise: seen
  nearer: {title: N, do: Go nearer., next: seen}
"""


def load(main: str = MAIN, shared: str = SHARED, look: str = LOOK) -> Flow:
    files = {"small.yaml": main, "parts/shared.yaml": shared, "parts/look.yaml": look}
    return load_bundle({name: dedent(text).encode() for name, text in files.items()}, "small.yaml")


def problems(main: str = MAIN, shared: str = SHARED, look: str = LOOK) -> list[Problem]:
    try:
        load(main, shared, look)
    except FlowErrors as errors:
        return list(errors.problems)
    return []


def told(main: str = MAIN, shared: str = SHARED, look: str = LOOK) -> list[str]:
    """The problems as `file:line: what, hint`."""
    return [
        f"{problem.file}:{problem.line}: {problem.what}, {problem.hint}"
        for problem in problems(main, shared, look)
    ]
