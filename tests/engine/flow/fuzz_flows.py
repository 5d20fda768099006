"""Random flow files: damaged ones, and ones woven from words of the language; read, linted and drawn."""

from __future__ import annotations

import string
import time
import xml.etree.ElementTree as ET

from hypothesis import strategies as st

from engine.flow.draw.cells import cells
from engine.flow.draw.layout import laid_out
from engine.flow.draw.mermaid import mermaid_lines
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import StepRow
from engine.flow.draw.svg.sheets import svg
from engine.flow.draw.text import text_lines
from engine.flow.lint.registry import RULES
from engine.flow.lint.run import warn
from engine.flow.lint.wording import bypasses, vents
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem
from engine.flow.whole import load_whole, shelves_kept
from tests.engine.flow.lint.clean import CLEAN
from tests.engine.flow.small import FLOW
from tests.pace import SECONDS, one_pace

PACES = 40
"""The most that a file of this size may cost: 2 s, see `tests.pace`."""

_RULES = {rule.name for rule in RULES} | {"unused-waiver"}


def _check_cost(seconds: float) -> None:
    """A pace is timed only where the seconds are too many: there are 200,000 runs."""
    assert seconds < PACES * SECONDS or seconds < PACES * one_pace()


def check_file(data: bytes, name: str = "small") -> None:
    """Any bytes are a flow, which lint and draw take, or problems with places in the file."""
    begun = time.process_time()
    lines = data.count(b"\n") + 2
    try:
        loaded = load_whole(f"{name}.yaml", shelves_kept({f"{name}.yaml": data}))
    except FlowErrors as errors:
        for problem in errors.problems:
            _check_problem(problem, lines)
            assert problem.rule is None
    else:
        for problem in warn(loaded, ["made-up", "x"]):
            _check_problem(problem, lines)
            assert problem.rule in _RULES
        check_drawing(loaded.flow)
    _check_cost(time.process_time() - begun)


def _check_problem(problem: Problem, lines: int) -> None:
    assert problem.what
    assert "\n" not in str(problem)
    assert problem.line is None or 1 <= problem.line <= lines


def check_drawing(flow: Flow, overlay: Overlay | None = None) -> None:
    """Every step has its row, no line is wider than the terminal, and each form is well formed."""
    plan = laid_out(flow)
    assert sorted(row.step.id for row in plan.rows if isinstance(row, StepRow)) == sorted(flow.steps)
    wide = overlay is not None and overlay.vehicles is not None
    assert all(wide or cells(str(line)) <= 80 for line in text_lines(plan, 80, overlay))
    assert not any("\n" in line for line in mermaid_lines(plan, overlay))
    ET.fromstring(svg(plan, overlay))


# --- any bytes, and a good flow damaged

ANY_BYTES = st.binary(max_size=400) | st.text(max_size=400).map(lambda text: text.encode("utf-8", "ignore"))

_MARKS = string.ascii_lowercase + string.digits + " :-[]{},|>'\"&*!%#\n\t_"


def _damaged(flow: str) -> st.SearchStrategy[bytes]:
    cut = st.tuples(st.integers(0, len(flow) - 1), st.integers(0, 60), st.text(_MARKS, max_size=20))
    return cut.map(lambda c: (flow[: c[0]] + c[2] + flow[c[0] + c[1] :]).encode())


def _shortened(flow: str) -> st.SearchStrategy[bytes]:
    lines = flow.splitlines(keepends=True)
    cut = st.tuples(st.integers(0, len(lines) - 1), st.integers(1, 6))
    return cut.map(lambda c: "".join(lines[: c[0]] + lines[c[0] + c[1] :]).encode())


DAMAGED = _damaged(FLOW) | _shortened(FLOW)
DAMAGED_CLEAN = _damaged(CLEAN) | _shortened(CLEAN)

_PLAIN = st.recursive(
    st.sampled_from(
        [
            "x",
            "all",
            "fine",
            "low_side",
            "5 psi",
            "yes",
            "''",
            "weather",
            "resume",
            "a > 5 psi",
            "fan is runs",
        ]
    ),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda items: "[" + ", ".join(items) + "]")
        | st.dictionaries(st.sampled_from(["a", "when", "go", "x"]), inner, max_size=3).map(
            lambda entries: "{" + ", ".join(f"{key}: {value}" for key, value in entries.items()) + "}"
        )
    ),
    max_leaves=6,
)
_VALUES = [
    line for line in FLOW.splitlines() if line.startswith("    ") and ": " in line and not line.endswith("|")
]

REPLACED = st.tuples(st.sampled_from(_VALUES), _PLAIN).map(
    lambda drawn: FLOW.replace(drawn[0], drawn[0].split(": ", 1)[0] + ": " + drawn[1], 1).encode()
)
"""Any value in the place of another."""


# --- flows woven from the words of the language: right in shape, wild in where they lead

_HEAD = """\
format: 1
flow: woven
revision: 1
title: T
about: A
start: first
waive: [{rule: asked-twice, at: s1, because: B}]
readings:
  hot: {label: Hot, choices: {yes: Y, no: N}}
  codes: {label: C, choices: {none: N, wire: W, gas: G}, several: true, alone: none, ask_if: hot is yes}
  warm: {label: W, quantity: temperature, possible: -40 to 90 degC}
  low_side: {label: Low-side gauge, quantity: pressure}
  high_side: {label: High-side gauge, quantity: pressure}
sets:
  s: {label: S, load: raised}
  t: {label: T, load: rest}
cautions:
  burst: {signal: NOTICE, exposure: pressurised, text: It can burn., source: S}
findings:
  fine: {title: F, means: M}
  bad: {title: B, means: Vent the charge.}
"""
_CONDITIONS = st.sampled_from(
    [
        "hot is yes",
        "codes is wire|gas and not codes is none",
        "warm < 3 degC",
        "warm > 4 degC",
        "warm >= 3 degC and warm < 5 degC",
        "known warm and hot is no",
        "not known s.high_side",
        "known s.low_side and s.low_side > 3 psi",
        "s.high_side - t.high_side >= 5 psi and t.high_side - s.high_side >= 5 psi",
        "s.high_side - s.low_side < 9 psi or warm > 95 degC",
        "known s.pressure_ratio and s.pressure_ratio < 2",
        "known s.settled and s.settled is no",
    ]
)
_STEPS = 8
_AHEAD = st.sampled_from([1, 1, 1, 2, 3, _STEPS])
_TARGET = st.sampled_from([1] * 12 + [2] * 6 + [3] * 3 + [_STEPS] * 8 + [-1, 0, 99])
"""How many steps further on; back, nowhere on and out of the flow now and then."""
_DO = st.sampled_from(
    ["D.", "Connect the gauges.", "Take the hoses off.", "Bridge the switch.", "Never vent the refrigerant."]
)
_ASKS = st.lists(st.sampled_from(["hot", "codes", "warm"]), unique=True, max_size=3).map(
    lambda names: f"ask: [{', '.join(names)}]" if names else ""
)
_TAKES = st.sampled_from(
    [
        "",
        "",
        "set: s, settle: 3 min, record: [low_side, high_side]",
        "set: s, record: [high_side]",
        "set: t, record: [low_side, high_side]",
        "set: t, settle: 1 min, record: [high_side]",
    ]
)
_LIMITS = st.sampled_from(["", "", "", "at_most: 2, then: done", "for: [fine, bad], skip_to: done"])
_RULE = st.tuples(_CONDITIONS, _TARGET)


def _leads(rules: list[tuple[str, str]], on: str) -> str:
    if not rules:
        return f"next: {on}"
    listed = "".join(f"{{when: '{when}', go: {go}}}, " for when, go in rules)
    return f"next: [{listed}{{unknown: {on}}}, {{otherwise: {on}}}]"


_STEP = st.builds(
    lambda do, asks, takes, limits, rules, on: (do, [asks, takes, limits], rules, on),
    _DO,
    _ASKS,
    _TAKES,
    _LIMITS,
    st.lists(_RULE, max_size=4),
    _AHEAD,
)
_WATCH = st.sampled_from(["", "", "high_side > 9 bar", "high_side > 9 bar and high_side < 8 bar"])
_FIRST = """\
steps:
  first:
    {title: T, do: D, exposure: [pressurised], ask: [hot, codes, warm], set: s, settle: 1 min,
     record: [low_side, high_side], next: [{when: warm > 9 degC, go: second}, {unknown: s0}, {otherwise: s0}]}
  second: {title: T, do: D, set: t, settle: 1 min, record: [low_side, high_side], next: s0}
"""
_LAST = """\
  done: {title: Done, conclude: all}
"""

Woven = tuple[str, list[str], list[tuple[str, int]], int]


def _woven(steps: list[Woven], sign: str, watch: str) -> bytes:
    text = _HEAD
    if watch:
        text += f"watch:\n  - {{name: w, when: {watch}, because: B, go: done}}\n"
    text += f"signs:\n  one: {{when: '{sign}', says: S, weighs: {{fine: 2, bad: [0.5, 2]}}}}\n"
    text += (
        "  two: {reads: warm, at: [5 degC, 95 degC], says: S, weighs: {fine: rises, bad: [2, 1, 0.5]}}\n"
        + _FIRST
    )

    def target(number: int) -> str:
        if number >= 99 or number < 0:
            return "nowhere"
        return f"s{number}" if number < len(steps) else "done"

    for number, (do, keys, rules, on) in enumerate(steps):
        leads = _leads([(when, target(number + go)) for when, go in rules], target(number + on))
        inside = ", ".join(["title: T", f"do: {do}", "exposure: [pressurised]", *filter(None, keys), leads])
        text += f"  s{number}: {{{inside}}}\n"
    return (text + _LAST).encode()


WOVEN = st.builds(_woven, st.lists(_STEP, min_size=1, max_size=_STEPS), _CONDITIONS, _WATCH)


def check_woven(data: bytes) -> None:
    """A woven flow, under its own name."""
    check_file(data, "woven")


# --- sentences

_SAID = ["vent", "the", "refrigerant", "into", "air", "let", "it", "out", "blow", "off", "never", "not", "if", "when", ",", ".", ";", "bridge", "jumper", "a", "of", "switch", "relief", "cut-out", "hose", "gauges", "purge", "bleed", "release", "no"]  # fmt: skip # noqa: E501
SENTENCES = st.lists(st.sampled_from(_SAID), max_size=300).map(" ".join) | st.text(max_size=2000)


def check_sentence(text: str) -> None:
    """No sentence takes long to judge, and forbidding it in front makes it harmless."""
    begun = time.process_time()
    vents(text)
    bypasses(text)
    if "," not in text:
        assert not vents("never " + text)
    _check_cost(time.process_time() - begun)
