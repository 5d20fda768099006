"""What a golden walk says and what it came to, side by side, as lines for a person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import unified_diff

from engine.job.golden.checking import Checked, State

_AROUND = 2
"""Steps shown before and after those that differ."""


def told(checked: Checked) -> Iterator[str]:
    """The lines for one walk; none for one that holds."""
    if checked.state is State.BROKEN:
        yield from map(str, checked.problems)
    elif checked.state is State.NEW:
        yield f"{checked.place}: nothing is expected of {_called(checked)} yet"
        yield f"  it comes to {checked.finding}"
        yield f"  by {' > '.join(checked.path)}"
    elif checked.state is State.DIFFERS and checked.expected is not None:
        yield f"{checked.place}: {_called(checked)} comes to something else"
        if checked.expected.finding not in (None, checked.finding):
            yield "  finding"
            yield f"    - {checked.expected.finding}"
            yield f"    + {checked.finding}"
        if checked.expected.path not in (None, checked.path):
            yield "  path"
            yield from _steps(checked.expected.path or (), checked.path)


def _called(checked: Checked) -> str:
    return f"'{checked.walk}'" if checked.walk else "this walk"


def _steps(expected: Sequence[str], came: Sequence[str]) -> Iterator[str]:
    """`- step` was expected, `+ step` was taken; `…` stands for steps that are the same."""
    lines = list(unified_diff(list(expected), list(came), lineterm="", n=_AROUND))[2:]
    for line in lines:
        yield "    …" if line.startswith("@@") else f"    {line[0]} {line[1:]}".rstrip()
