"""A flow of given steps around which everything else is right, for checks along paths."""

from __future__ import annotations

from textwrap import dedent, indent

_HEAD = """\
format: 1
flow: small
revision: 1
title: T
about: A
start: {start}
readings:
  hot: {{label: Hot, choices: {{yes: Y, no: N}}}}
  wet: {{label: Wet, choices: {{yes: Y, no: N}}}}
  low_side: {{label: Low, quantity: pressure}}
  high_side: {{label: High, quantity: pressure}}
  refrigerant: {{label: Gas, choices: {{R-134a: A, other: B}}}}
  suction_line_temperature: {{label: Line, quantity: temperature}}
  duty: {{label: Duty, quantity: ratio}}
  duty_displayed: {{label: Shown, quantity: ratio}}
sets:
  s: {{label: S, load: rest}}
  t: {{label: T, load: rest}}
findings:
  fine: {{title: F, means: M}}
  bad: {{title: B, means: M}}
  inconclusive: {{title: I, means: M}}
signs:
  one: {{when: hot is yes, says: it is hot, weighs: {{fine: 2, bad: 0.5}}}}
"""


def mini(steps: str, start: str = "first", more: str = "", ends: bool = True) -> str:
    """The flow; `ends` adds a step `done` that concludes and one `sorry` that asks `hot` and leads to it.

    Sets are declared as `s` and `t`; those that no step takes are left out.
    """
    text = _HEAD.format(start=start)
    for name in ("s", "t"):
        if f"set: {name}" not in steps:
            text = text.replace(f"  {name}: {{label: {name.upper()}, load: rest}}\n", "")
    if "  s: {" not in text and "  t: {" not in text:
        text = text.replace("sets:\n", "")
    text += dedent(more)
    text += "steps:\n" + indent(dedent(steps), "  ")
    if ends:
        text += "  done: {title: Done, conclude: all}\n"
    return text


def asks(name: str, readings: str, to: str) -> str:
    """One step that asks and leads on."""
    return f"{name}: {{title: T, do: D, ask: [{readings}], next: {to}}}\n"
