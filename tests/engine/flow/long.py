"""A made-up flow of any length, as dense as the shipped ones, that lints without a word.

Steps come in tens: questions, a set under load with its rules, a loop with its limit, a junction, a step for
some findings only. Readings, sets, signs and conditions grow with them: nothing is cheap by being few.
"""

from __future__ import annotations

from collections.abc import Iterator

FINDINGS = ("fine", "weak", "low", "blocked", "stuck", "wire")

_HEAD = """\
format: 1
flow: long
revision: 1
title: Where in a long row does it go wrong?
about: Made up, to see what a long flow costs.
start: s0
settled: Nothing moves for a minute.
cautions:
  burst: {signal: WARNING, exposure: pressurised, text: A hose can burst and injure eyes., source: made up}
  belt: {signal: WARNING, exposure: rotating, text: Belts catch sleeves., source: made up}
  fumes: {signal: WARNING, exposure: exhaust, text: Exhaust fumes fill a room., source: made up}
readings:
  low_side: {label: Low-side gauge, quantity: pressure, unit: psi, plausible: -15 to 160 psi}
  high_side: {label: High-side gauge, quantity: pressure, unit: psi, plausible: 0 to 450 psi}
  limit: {label: Limit, quantity: pressure, unit: psi}
"""

_QUESTION = """\
  s{n}:
    title: Question {n}
    do: Look at part {n} with a lamp and a mirror, and say what is seen there.
    why: What is seen without touching anything never has to be proved twice.
    how: [Ask when it started., Look at the belt.]
    ask: [look_{g}, heat_{g}{more}]
    next:
      - {{when: look_{g} is bad and heat_{g} >= 40 degC, go: {on}}}
      - {{when: heat_{g} >= 10 degC and heat_{g} < 40 degC, go: {on}}}
      - {{when: look_{g} is good, rule_out: [wire], because: part {g} was seen to be sound}}
      - unknown: {on}
      - otherwise: {on}
"""
_SET = """\
  s{n}:
    title: Load of part {n}
    do: Raise the load and wait until nothing moves.
    why: Movement beats level; the set is compared with the one before.
    exposure: [pressurised, rotating, exhaust]
    set: set_{g}
    settle: 3 min
    record: [low_side, high_side]
    at_most: 2
    then: s{later}
    next:
      - {{when: set_{g}.high_side - set_{g}.low_side >= 90 psi and look_{g} is good, go: {on}}}
      - {{when: known set_{g}.high_side and set_{g}.high_side > 300 psi, go: {on}}}
      - unknown: {on}
      - otherwise: {on}
"""
_AGAIN = """\
  s{n}:
    title: Was the load raised?
    do: Feel the air, and raise the load again if it did not move.
    exposure: [rotating, exhaust]
    ask: [moved_{g}]
    next:
      - {{when: moved_{g} is bad, go: s{back}}}
      - unknown: {on}
      - otherwise: {on}
"""
_JUNCTION = """\
  s{n}:
    title: Which way?
    next:
      - {{when: heat_{g} >= 60 degC, go: s{later}}}
      - unknown: {on}
      - otherwise: {on}
"""
_FOR = """\
  s{n}:
    title: A test for some
    do: Press the hose with a thumb and feel whether it gives.
    why: It costs nothing and parts two findings.
    for: [weak, low]
    skip_to: {on}
    next: {on}
"""
_PLAIN = """\
  s{n}:
    title: Do part {n}
    do: Wipe the port dry and note the temperature of the air beside it.
    why: A dry port shows a leak; a wet one shows nothing.
    next: {on}
"""
_END = """\
  s{n}:
    title: Weigh up
    conclude: all
    next: off
  off:
    title: Gauges off
    do: Engine off. Take the gauges off.
    exposure: [pressurised]
    end: true
"""


def long_flow(steps: int) -> str:
    """A flow of so many steps, a multiple of ten, in one file."""
    (text,) = long_files(steps, steps).values()
    return text


def long_files(steps: int, of_a_file: int = 2500) -> dict[str, str]:
    """A flow of so many steps as a main file, `long.yaml`, and parts; both numbers are multiples of ten."""
    later = range(of_a_file, steps, of_a_file)
    files = {"long.yaml": _main(steps, min(steps, of_a_file), list(later))}
    for first in later:
        run = range(first, min(first + of_a_file, steps))
        head = f"start: s{first}\nexits: {{on: The run is done.}}\nreadings:\n"
        files[f"p{first}.yaml"] = head + _entries(run, "on")
    return files


def _main(steps: int, own: int, later: list[int]) -> str:
    following = [*later[1:], steps]
    used = (
        f"  - {{part: p{first}.yaml, exits: {{on: s{after}}}}}\n"
        for first, after in zip(later, following, strict=False)
    )
    use = "use:\n" + "".join(used) if later else ""
    watch = f"watch:\n  - {{name: high, when: high_side >= limit, because: Too high., go: s{steps}}}\n"
    findings = "".join(f"  {name}: {{title: It is {name}, means: So it is.}}\n" for name in FINDINGS)
    head = _HEAD.replace("start: s0\n", "start: s0\n" + use)
    return head + _entries(range(own), f"s{own}", _END.format(n=steps)) + watch + "findings:\n" + findings


def _entries(run: range, on: str, end: str = "") -> str:
    """Readings (their key stands before), sets, steps and signs of a row of steps that leads on to `on`."""
    groups = range(run.start // 10, run.stop // 10)
    return "".join(
        (
            *(_readings(g) for g in groups),
            "sets:\n",
            *(f"  set_{g}: {{label: Set {g}, load: raised}}\n" for g in groups),
            "steps:\n",
            *(_step(n, on if n + 1 == run.stop else f"s{n + 1}") for n in run),
            end,
            "signs:\n",
            *(_sign(g) for g in groups),
        )
    )


def _readings(g: int) -> str:
    return (
        f"  look_{g}: {{label: Look {g}, choices: {{good: Sound, bad: Worn}}, how: With a lamp.}}\n"
        f"  moved_{g}: {{label: Moved {g}, choices: {{good: It did, bad: It did not}}}}\n"
        f"  heat_{g}: {{label: Heat {g}, quantity: temperature, unit: degC, plausible: -20 to 120 degC}}\n"
    )


def _step(n: int, on: str) -> str:
    shape = (_QUESTION, _SET, _AGAIN, _JUNCTION, _FOR)
    part = shape[n % 10] if n % 10 < len(shape) else _PLAIN
    words = {"n": n, "on": on, "g": n // 10, "back": n - 1, "later": n - n % 10 + 8}
    return part.format(**words, more=", limit" if n == 0 else "")


def _sign(g: int) -> str:
    return (
        f"  sign_{g}:\n"
        f"    when: set_{g}.high_side - set_{g}.low_side >= 70 psi and heat_{g} > 15 degC\n"
        f"    says: part {g} answers the load\n"
        "    weighs: {" + ", ".join(_odds(g)) + "}\n"
    )


def _odds(g: int) -> Iterator[str]:
    for number, name in enumerate(FINDINGS):
        yield f"{name}: [{2 + (g + number) % 5}, 0.{3 + (g + number) % 6}]"
