"""What the control asks of the compressor in a set: minimum, part or ceiling."""

from __future__ import annotations

from collections.abc import Iterable

from engine.flow.computed.lookup import difference, number, word
from engine.flow.model import Facts
from engine.physics.command import command_state as judge

BY_LOAD = ("unloaded", "baseline", "loaded")
"""Sets that differ only in heat load, the lightest first: duty is compared among these."""

LOAD_MOVED_K = 2.0
"""Intake air warmer by this shows that the load rose (common practice, no published source)."""


def command_state(facts: Facts, set_name: str) -> str | None:
    """`minimum`, `part` or `ceiling` in that set, or None if nothing tells.

    The set's measured current against the maker's maximum comes first, then the scan tool's word in the set,
    then its duty: its level near none or full, else its movement among the sets unloaded, baseline and
    loaded. A duty that did not move says nothing unless the intake air shows that the load did. The word
    `unknown` is never returned: not to be told is None, so that conditions on it are unknown and not false.
    """
    lighter = _nearest(facts, _lighter(set_name))
    heavier = _nearest(facts, _heavier(set_name))
    state = judge(
        word(facts, f"{set_name}.scan_command"),
        number(facts, f"{set_name}.solenoid_current"),
        number(facts, "solenoid_current_limit"),
        number(facts, f"{set_name}.duty"),
        number(facts, f"{lighter}.duty") if lighter else None,
        number(facts, f"{heavier}.duty") if heavier else None,
        _load_moved(facts, lighter, set_name, heavier),
    )
    return None if state == "unknown" else state


def _lighter(set_name: str) -> Iterable[str]:
    """Sets of less load, the nearest first."""
    return reversed(BY_LOAD[: BY_LOAD.index(set_name)]) if set_name in BY_LOAD else ()


def _heavier(set_name: str) -> Iterable[str]:
    """Sets of more load, the nearest first."""
    return BY_LOAD[BY_LOAD.index(set_name) + 1 :] if set_name in BY_LOAD else ()


def _nearest(facts: Facts, sets: Iterable[str]) -> str | None:
    """The first set whose duty is known."""
    return next((one for one in sets if number(facts, f"{one}.duty") is not None), None)


def _load_moved(facts: Facts, lighter: str | None, here: str, heavier: str | None) -> bool | None:
    """Whether the intake air shows that the load rose, from here to the heavier set where there is one."""
    low, high = (here, heavier) if heavier else (lighter, here)
    rise = difference(facts, f"{high}.intake_temperature", f"{low}.intake_temperature")
    return None if rise is None else rise >= LOAD_MOVED_K
