"""What was commanded. The wiring table is reasoned by hand, volt by volt, in the test itself."""

from __future__ import annotations

import pytest

from engine.physics.command import (
    Current,
    command_state,
    commanded_duty,
    estimated_current,
    judge_command,
    mean_volts_duty,
    moves_like_on_share,
    solenoid_current,
)

ON = 0.7  # the valve carries current 70 % of the time
SUPPLY = 13.5

# Volts between red and black while the valve is on, and while it is off.
# A supply-switched valve: one pin lies on ground, the control wire is at 13.5 V while on, at 0 V while off.
# A ground-switched valve: one pin lies on 13.5 V, the control wire is at 0 V while on, at 13.5 V while off.
WIRING = {
    # leads, side: (red minus black on, red minus black off)
    ("wire-to-ground", "supply"): (13.5 - 0.0, 0.0 - 0.0),  # red on the wire, black on ground
    ("wire-to-ground", "ground"): (0.0 - 0.0, 13.5 - 0.0),
    ("wire-to-supply", "supply"): (13.5 - 13.5, 13.5 - 0.0),  # red on supply, black on the wire
    ("wire-to-supply", "ground"): (13.5 - 0.0, 13.5 - 13.5),
    ("across-coil", "supply"): (
        13.5 - 0.0,
        0.0 - 0.0,
    ),  # red on the wire (the supply end), black on the other pin
    ("across-coil", "ground"): (13.5 - 0.0, 13.5 - 13.5),  # red on the supply pin, black on the wire
}
BY_HAND = [
    ("wire-to-ground", "positive", "supply", 0.70),
    ("wire-to-ground", "negative", "supply", 0.30),
    ("wire-to-ground", "positive", "ground", 0.30),
    ("wire-to-ground", "negative", "ground", 0.70),
    ("wire-to-supply", "positive", "supply", 0.30),
    ("wire-to-supply", "negative", "supply", 0.70),
    ("wire-to-supply", "positive", "ground", 0.70),
    ("wire-to-supply", "negative", "ground", 0.30),
    ("across-coil", "positive", "supply", 0.70),
    ("across-coil", "negative", "supply", 0.30),
    ("across-coil", "positive", "ground", 0.70),
    ("across-coil", "negative", "ground", 0.30),
]


@pytest.mark.parametrize(("leads", "edge", "side", "displayed"), BY_HAND)
def test_duty_from_every_way_of_connecting(leads: str, edge: str, side: str, displayed: float) -> None:
    on_volts, off_volts = WIRING[leads, side]
    high_share = ON if on_volts > off_volts else 1.0 - ON
    meter_shows = high_share if edge == "positive" else 1.0 - high_share
    assert displayed == pytest.approx(meter_shows), "the table by hand and the volts agree"
    assert commanded_duty(displayed, leads, edge, side) == pytest.approx(ON)


@pytest.mark.parametrize(("leads", "side"), WIRING)
@pytest.mark.parametrize("on_share", [0.0, 0.4, 1.0])
def test_duty_from_mean_volts_works_without_edges(leads: str, side: str, on_share: float) -> None:
    on_volts, off_volts = WIRING[leads, side]
    mean = on_share * on_volts + (1.0 - on_share) * off_volts
    assert mean_volts_duty(mean, SUPPLY, leads, side) == pytest.approx(on_share)


@pytest.mark.parametrize("missing", range(4))
def test_anything_unknown_is_never_computed_from(missing: int) -> None:
    arguments: list[float | str | None] = [0.4, "across-coil", "positive", "ground"]
    arguments[missing] = None
    assert commanded_duty(*arguments) is None  # type: ignore[arg-type]


@pytest.mark.parametrize("displayed", [0.0, 1.0])
def test_a_display_without_edges_tells_nothing(displayed: float) -> None:
    assert commanded_duty(displayed, "wire-to-ground", "positive", "ground") is None


def test_unknown_words_are_unknown() -> None:
    assert commanded_duty(0.4, "somewhere", "positive", "ground") is None
    assert commanded_duty(0.4, "across-coil", "rising", "ground") is None


@pytest.mark.parametrize(
    ("mean", "supply", "leads", "side"),
    [
        (None, 13.5, "across-coil", "ground"),
        (6.0, None, "across-coil", "ground"),
        (6.0, 13.5, None, "ground"),
        (6.0, 13.5, "across-coil", None),
        (6.0, 0.0, "across-coil", "ground"),
        (15.0, 13.5, "across-coil", "ground"),  # more than the supply: a slip
        (-6.0, 13.5, "across-coil", "ground"),  # leads the wrong way round
    ],
)
def test_mean_volts_tell_nothing(
    mean: float | None, supply: float | None, leads: str | None, side: str | None
) -> None:
    assert mean_volts_duty(mean, supply, leads, side) is None


def test_measured_current_outranks_the_estimate_and_the_estimate_says_so() -> None:
    assert solenoid_current(0.62, 0.5, 13.5, 10.6) == Current(0.62, estimated=False)
    estimate = solenoid_current(None, 0.5, 13.5, 10.6)
    assert estimate is not None
    assert estimate.estimated
    assert estimate.value == pytest.approx(0.637, abs=0.001)  # 0.5 * 13.5 / 10.6
    assert solenoid_current(None, None, 13.5, 10.6) is None
    assert estimated_current(0.5, 13.5, 0.0) is None


def state(
    *,
    scan: str | None = None,
    current: float | None = None,
    limit: float | None = None,
    duty: float | None = None,
    lighter: float | None = None,
    heavier: float | None = None,
    moved: bool | None = None,
) -> str:
    return command_state(scan, current, limit, duty, lighter, heavier, moved)


def test_scan_tool() -> None:
    assert [state(scan=s) for s in ("minimum", "part", "maximum")] == ["minimum", "part", "ceiling"]


def test_nothing_known_is_unknown() -> None:
    assert state() == "unknown"
    assert state(duty=0.6) == "unknown"


def test_current_at_the_makers_maximum_is_the_ceiling_at_any_duty() -> None:
    """0.65 A through 10.6 ohm at 13.5 V is reached at 51 % duty, cold."""
    assert state(current=0.65, limit=0.65, duty=0.51) == "ceiling"
    assert state(current=0.40, limit=0.65, duty=0.51) == "part"
    assert state(current=0.0, limit=None, duty=0.51) == "minimum"
    assert state(current=0.04, limit=0.65) == "minimum"
    assert state(current=0.40, limit=None) == "unknown"


def test_measured_current_outranks_the_scan_tool_and_duty() -> None:
    assert state(current=0.01, limit=0.65, scan="maximum", duty=1.0) == "minimum"
    assert state(current=0.3, limit=0.65, scan="maximum") == "part"
    assert state(current=0.3, scan="maximum") == "ceiling"  # without its limit the current cannot tell


def test_duty_near_its_ends() -> None:
    assert state(duty=0.98) == "ceiling"
    assert state(duty=0.04) == "minimum"
    assert state(duty=0.98, scan="part") == "part"


def test_duty_that_moved_with_the_load_is_part() -> None:
    assert state(duty=0.40, heavier=0.70, moved=True) == "part"  # as found, before the load was raised
    assert state(duty=0.70, lighter=0.40, moved=True) == "part"
    assert state(duty=0.70, lighter=0.40, moved=None) == "part"  # that it moved shows that the load did


def test_duty_that_no_longer_rises_is_the_ceiling() -> None:
    assert state(duty=0.75, lighter=0.75, moved=True) == "ceiling"
    assert state(duty=0.75, lighter=0.73, moved=True) == "ceiling"
    assert state(duty=0.75, heavier=0.76, moved=True) == "ceiling"
    assert (
        state(duty=0.75, lighter=0.40, heavier=0.75, moved=True) == "ceiling"
    )  # rose up to here, not further


def test_a_duty_that_stays_tells_nothing_unless_the_load_really_rose() -> None:
    assert state(duty=0.75, lighter=0.75, moved=False) == "unknown"
    assert state(duty=0.75, lighter=0.75, moved=None) == "unknown"


def test_a_low_duty_that_stays_is_not_a_ceiling() -> None:
    assert state(duty=0.20, lighter=0.20, moved=True) == "unknown"


def test_a_duty_that_falls_as_the_load_rises_is_a_reading_to_check() -> None:
    judged = judge_command(None, None, None, 0.40, 0.70, None, True)
    assert judged.state == "unknown"
    assert "leads" in judged.reason


def test_every_verdict_has_a_reason() -> None:
    assert judge_command("maximum", None, None, None, None, None, None).reason == "the scan tool says maximum"
    assert "maker's maximum" in judge_command(None, 0.65, 0.65, None, None, None, None).reason


def test_a_display_that_rises_with_demand_is_the_on_share() -> None:
    assert moves_like_on_share(0.10, 0.85) is True
    assert moves_like_on_share(0.90, 0.20) is False


@pytest.mark.parametrize(("off", "cold"), [(None, 0.8), (0.2, None), (0.50, 0.53), (0.53, 0.50)])
def test_a_display_that_did_not_answer_proves_nothing(off: float | None, cold: float | None) -> None:
    assert moves_like_on_share(off, cold) is None


def test_the_proof_serves_where_the_connection_is_unknown() -> None:
    assert commanded_duty(0.3, None, "positive", "ground", proved=False) == pytest.approx(0.7)
    assert commanded_duty(0.3, "across-coil", "positive", None, proved=True) == pytest.approx(0.3)


def test_a_proof_against_the_connection_tells_nothing() -> None:
    # red on the wire, rising edge, ground switched: the off-share; a rising display says on-share
    assert commanded_duty(0.3, "wire-to-ground", "positive", "ground", proved=True) is None
    assert commanded_duty(0.3, "wire-to-ground", "positive", "ground", proved=False) == pytest.approx(0.7)
