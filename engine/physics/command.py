"""What the control asks of the stroke valve: duty, current, and the command state judged from them.

Duty is a command, not a stroke. A meter shows it through its leads, its edge and the switched side, so from a
display with any of these unknown nothing is computed.
"""

from __future__ import annotations

from dataclasses import dataclass

MOVED = 0.03
"""Duty that differs by more than this (3 points) has moved; less is the meter. (cp)"""

SWUNG = 0.05
"""A display that differs by less than this (5 points) between A/C off and coldest did not answer. (cp)"""

NEAR_FULL, NEAR_NONE = 0.95, 0.05
"""On-time of about 100 %, and of about none: 5 % is the default without command (references.md section 5)."""

LEAST_CEILING = 0.40
"""A duty below this is no ceiling even if it does not rise. A 0.65 A limit through 10.1 ohm at 14.5 V is
reached at 45 % on-time, the lowest that published figures give (references.md section 5); 40 % (cp)."""

AT_LIMIT, AT_REST = 0.95, 0.10
"""Shares of the maker's maximum current that count as reached, and as none. (cp)"""

NO_CURRENT_A = 0.05
"""Below this a valve has no command, whatever its maximum. (cp)"""


@dataclass(frozen=True, slots=True)
class Current:
    """Current through the coil in A; `estimated` if it was not measured."""

    value: float
    estimated: bool


@dataclass(frozen=True, slots=True)
class Command:
    """`minimum`, `part`, `ceiling` or `unknown`, and one sentence why."""

    state: str
    reason: str


def _shows_on_share(leads: str, edge: str, side: str) -> bool | None:
    """Does the meter show the on-share (True) or the off-share (False)? None if anything is unknown.

    The valve is on while a supply-switched wire is high, or a ground-switched wire low. Red lies on the wire
    and black on ground (wire-to-ground), red on supply and black on the wire (wire-to-supply), or red on the
    coil's supply end (across-coil). Positive edge: share of time the meter sees high; negative: sees low.
    """
    on_is_high = {
        ("wire-to-ground", "supply"): True,
        ("wire-to-ground", "ground"): False,
        ("wire-to-supply", "supply"): False,
        ("wire-to-supply", "ground"): True,
        ("across-coil", "supply"): True,
        ("across-coil", "ground"): True,
    }.get((leads, side))
    if on_is_high is None or edge not in ("positive", "negative"):
        return None
    return on_is_high == (edge == "positive")


def moves_like_on_share(display_ac_off: float | None, display_max_cold: float | None) -> bool | None:
    """Whether the display rises with demand (True) or falls (False), noted with A/C off and at coldest.

    None if either is missing or the two differ by less than SWUNG: that proves nothing.
    """
    if display_ac_off is None or display_max_cold is None:
        return None
    swing = display_max_cold - display_ac_off
    return None if abs(swing) < SWUNG else swing > 0.0


def commanded_duty(
    displayed: float | None,
    leads: str | None,
    edge: str | None,
    side: str | None,
    proved: bool | None = None,
) -> float | None:
    """On-time of the valve, 0 to 1, from the meter's duty display; None if it cannot be told.

    `leads` wire-to-ground, across-coil or wire-to-supply; `edge` positive or negative; `side` supply or
    ground. `proved` (see `moves_like_on_share`) serves where any of these is unknown; where it contradicts
    them one of the four is wrong, and nothing is told. None at a display of 0 or 100 % too: without edges a
    meter shows either, whatever the command; mean volts tell (`mean_volts_duty`).

    >>> commanded_duty(0.4, "wire-to-ground", "positive", "ground")
    0.6
    """
    if displayed is None or not 0.0 < displayed < 1.0:
        return None
    connected = None if leads is None or edge is None or side is None else _shows_on_share(leads, edge, side)
    on_share = proved if connected is None else connected
    if on_share is None or (proved is not None and proved is not on_share):
        return None
    return displayed if on_share else 1.0 - displayed


def mean_volts_duty(
    mean_volts: float | None, supply_volts: float | None, leads: str | None, side: str | None
) -> float | None:
    """On-time of the valve, 0 to 1, from a d.c. voltmeter's mean; None if anything is unknown.

    A check, good to some 5 points: the free-wheeling diode is ignored. Works without edges, at 0 and 100 %.
    `supply_volts` must be measured at the plug's other pin (or the battery, for a grounded valve): a
    ground-switched wire at 0 V is full command, or a missing supply. None if the mean is outside the supply.
    """
    if mean_volts is None or supply_volts is None or leads is None or side is None or supply_volts <= 0.0:
        return None
    high_share = mean_volts / supply_volts
    on_is_high = _shows_on_share(leads, "positive", side)
    if on_is_high is None or not -0.05 <= high_share <= 1.05:
        return None
    share = min(max(high_share, 0.0), 1.0)
    return share if on_is_high else 1.0 - share


def solenoid_current(
    measured_a: float | None, duty: float | None, supply_volts: float | None, resistance_ohm: float | None
) -> Current | None:
    """The measured current, or else an estimate, labelled so; None if neither can be had."""
    if measured_a is not None:
        return Current(measured_a, estimated=False)
    if duty is None or supply_volts is None or resistance_ohm is None:
        return None
    value = estimated_current(duty, supply_volts, resistance_ohm)
    return None if value is None else Current(value, estimated=True)


def estimated_current(duty: float, supply_volts: float, resistance_ohm: float) -> float | None:
    """Duty times volts over ohms, in A: an estimate that ignores diode and heat; None at 0 ohm.

    `resistance_ohm` at the coil's own temperature. Never judge a ceiling from it: see `judge_command`.
    """
    return duty * supply_volts / resistance_ohm if resistance_ohm > 0.0 else None


def command_state(
    scan: str | None,
    current: float | None,
    current_limit: float | None,
    duty: float | None,
    lighter_duty: float | None,
    heavier_duty: float | None,
    load_moved: bool | None,
) -> str:
    """`minimum`, `part`, `ceiling` or `unknown`; the arguments of `judge_command`."""
    return judge_command(scan, current, current_limit, duty, lighter_duty, heavier_duty, load_moved).state


def judge_command(
    scan: str | None,
    current: float | None,
    current_limit: float | None,
    duty: float | None,
    lighter_duty: float | None,
    heavier_duty: float | None,
    load_moved: bool | None,
) -> Command:
    """What is asked of the compressor in one set, the best evidence first.

    Measured `current` in A (never an estimate) against the maker's maximum `current_limit` outranks the scan
    tool's word (`minimum`, `part`, `maximum`), that outranks the level of `duty`, and that its movement:
    `lighter_duty` and `heavier_duty` were commanded in a set with less and with more heat load than this one,
    and `load_moved` says whether the load really differed between them.
    """
    return (
        _from_current(current, current_limit)
        or _from_scan(scan)
        or _from_level(duty)
        or _from_movement(duty, lighter_duty, heavier_duty, load_moved)
        or Command("unknown", "nothing measured tells what was commanded")
    )


def _from_current(current: float | None, limit: float | None) -> Command | None:
    if current is None:
        return None
    if current < NO_CURRENT_A:
        return Command("minimum", "next to no current was measured")
    if limit is None or limit <= 0.0:
        return None
    if current >= AT_LIMIT * limit:
        return Command("ceiling", "the measured current is at the maker's maximum")
    if current <= AT_REST * limit:
        return Command("minimum", "the measured current is a tenth of the maker's maximum or less")
    return Command("part", "the measured current is below the maker's maximum")


def _from_scan(scan: str | None) -> Command | None:
    states = {"minimum": "minimum", "part": "part", "maximum": "ceiling"}
    if scan not in states:
        return None
    return Command(states[scan], f"the scan tool says {scan}")


def _from_level(duty: float | None) -> Command | None:
    if duty is None:
        return None
    if duty >= NEAR_FULL:
        return Command("ceiling", "the on-time is about 100 percent")
    if duty <= NEAR_NONE:
        return Command("minimum", "the on-time is about zero")
    return None


def _from_movement(
    duty: float | None, lighter: float | None, heavier: float | None, load_moved: bool | None
) -> Command | None:
    if duty is None:
        return None
    to_come = None if heavier is None else heavier - duty
    so_far = None if lighter is None else duty - lighter
    rises = [rise for rise in (to_come, so_far) if rise is not None]
    if not rises:
        return Command("unknown", "the duty of another load is needed to tell part from ceiling")
    if min(rises) < -MOVED:
        return Command("unknown", "the duty fell as the load rose: check leads, edge and load")
    # Whether it rises further from here says more than that it rose up to here.
    if to_come is not None and to_come <= MOVED and load_moved:
        return _no_longer_rises(duty)
    if max(rises) > MOVED:
        return Command("part", "the duty moved with the load")
    if not load_moved:
        return Command("unknown", "the duty did not move, and nothing shows that the load did")
    return _no_longer_rises(duty)


def _no_longer_rises(duty: float) -> Command:
    if duty < LEAST_CEILING:
        return Command("unknown", "the duty did not rise with the load, but is too low to be its ceiling")
    return Command("ceiling", "the duty no longer rises though the load rose")
