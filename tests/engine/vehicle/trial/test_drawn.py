"""The traffic of a trial read back from its JSON, and what is refused."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any

import pytest

from engine.vehicle.trial.drawn import NotATrial, read_trial, same_flow, traffic_overlay
from engine.vehicle.trial.job import Keep
from engine.vehicle.trial.plain import to_plain
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.run import run
from engine.vehicle.trial.tally import tally
from tests.engine.vehicle.trial.yard import Yard, yard_flow

FLOW = yard_flow()
PLAN = Plan(FLOW, Yard(), ("yard", "other"), vehicles=20)
PLAIN: dict[str, Any] = json.loads(
    json.dumps(to_plain(PLAN, [tally(PLAN, run(PLAN, fleet, 1, Keep())) for fleet in PLAN.fleets]))
)


def test_fleets_are_added_up() -> None:
    overlay = traffic_overlay(read_trial(json.dumps(PLAIN).encode()), FLOW)
    assert overlay.vehicles == 40
    assert overlay.visits["look"] == 40
    assert sum(overlay.moves[move] for move in overlay.moves if move[0] == "look") == 40
    assert overlay.here is None
    assert "40 simulated vehicles (yard and other)" in overlay.caption


def test_another_state_of_the_flow_is_noticed() -> None:
    assert same_flow(PLAIN, FLOW)
    assert not same_flow({**PLAIN, "flow_hash": "0" * 64}, FLOW)


def broken(*path: str | int, value: Any = None) -> dict[str, Any]:
    """The trial with the value at `path` replaced."""
    plain = deepcopy(PLAIN)
    inner: Any = plain
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return plain


@pytest.mark.parametrize(
    "plain",
    [
        broken("fleets", 0, "traffic"),
        broken("fleets", 0, "traffic", value={}),
        broken("fleets", 0, "traffic", "steps", value=[{"step": "look", "visits": -1}]),
        broken("fleets", 0, "traffic", "steps", value=[{"step": "look", "visits": True}]),
        broken("fleets", 0, "traffic", "steps", value=[{"step": ["look"], "visits": 1}]),
        broken("fleets", 0, "traffic", "moves", value=[{"from": "look", "to": "measure", "times": "1"}]),
        broken("fleets", 0, "traffic", "moves", value=7),
        broken("fleets", 0, "overall", value=[]),
        broken("fleets", 0, value="yard"),
        broken("fleets", 0, "fleet", value=3),
    ],
)
def test_a_trial_without_sound_traffic_is_refused(plain: dict[str, Any]) -> None:
    with pytest.raises(NotATrial, match=r"run `loadstep trial --json` again\.$"):
        traffic_overlay(plain, FLOW)


def test_a_trial_of_another_flow_is_refused() -> None:
    with pytest.raises(NotATrial, match="it is a trial of 'barn', not of 'yard'"):
        traffic_overlay({**PLAIN, "flow": "barn"}, FLOW)


@pytest.mark.parametrize("text", [b"", b"\xff\xfe", b"{", b"[" * 100_000, b"nothing"])
def test_what_is_no_json_is_refused(text: bytes) -> None:
    with pytest.raises(NotATrial, match="it is not JSON"):
        read_trial(text)


@pytest.mark.parametrize(
    "text", [b"[]", b"7", b"{}", b'{"format": 2, "fleets": []}', b'{"format": 1, "fleets": 0}']
)
def test_other_json_is_refused(text: bytes) -> None:
    with pytest.raises(NotATrial, match="it is not what `loadstep trial --json` prints"):
        read_trial(text)
