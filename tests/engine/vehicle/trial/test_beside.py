"""Fitting the odds of a second finding, against what can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from math import log

import pytest

from engine.flow.model import Flow, Step
from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.traffic import Traffic
from engine.vehicle.trial.weights import beside
from engine.vehicle.trial.weights.beside import beside_lines, columns, fit_beside
from engine.vehicle.trial.weights.proposal import TooFew
from tests.engine.job.little import finding, flow, is_, sign
from tests.engine.vehicle.trial.made import WORN, result, said

DIRTY = Fault("dirty", 0.7)


def _flow(*more: str, **leaves: tuple[float, float]) -> Flow:
    return flow(
        Step("weigh-up", "Weigh", conclude=("no-fault", "worn", "dirty")),
        Step("early", "Weigh early", conclude=("worn",)),
        signs=(sign("leaves", is_("turns", "yes"), **leaves),),
        findings=tuple(finding(name) for name in ("no-fault", "worn", "dirty", *more)),
    )


def _told(first: str, *counts: tuple[bytes, int, int], at: str = "weigh-up") -> list[Result]:
    """For each state of the sign: how many vehicles with the first fault are dirty too, and how many not."""
    fault = Fault(first, 0.9)
    return [
        result(0, faults, said(first, (first, 0.9)), signs=state, traffic=Traffic({at: 1}))
        for state, two, one in counts
        for faults, count in (((fault, DIRTY), two), ((fault,), one))
        for _ in range(count)
    ]


def _told_worn(*counts: tuple[bytes, int, int], at: str = "weigh-up") -> list[Result]:
    return _told("worn", *counts, at=at)


COUNTED = ((b"\1", 30, 10), (b"\0", 10, 70), (b"\2", 20, 40))
"""Of a hundred vehicles each way: leaves seen, not seen, not looked."""


@pytest.fixture
def unpenalised(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DECLARED", "NEW", "SQUARED"):
        monkeypatch.setattr(beside, name, 1e-6)


@pytest.mark.usefixtures("unpenalised")
def test_one_sign_gets_the_counted_odds_against_those_where_it_is_unknown() -> None:
    """3 to 1 if true, 1 to 7 if false, where it is unknown 1 to 2: six times, and two sevenths of, that."""
    found = fit_beside(_flow(dirty=(2.0, 0.5)), _told_worn(*COUNTED))
    assert found.flow.signs["leaves"].beside["dirty"] == pytest.approx((6.0, 2 / 7), rel=0.02)
    assert found.vehicles == 180


@pytest.mark.usefixtures("unpenalised")
def test_a_declared_direction_is_kept() -> None:
    found = fit_beside(_flow(dirty=(0.5, 1.0)), _told_worn(*COUNTED))
    assert found.flow.signs["leaves"].beside == {}


@pytest.mark.usefixtures("unpenalised")
def test_what_the_sign_says_nothing_about_is_left_alone_unless_new_pairs_are_asked_for() -> None:
    silent = _flow(worn=(2.0, 0.5))
    assert fit_beside(silent, _told_worn(*COUNTED)).flow.signs["leaves"].beside == {}
    new = fit_beside(silent, _told_worn(*COUNTED), new_pairs=True).flow.signs["leaves"].beside
    assert new["dirty"] == pytest.approx((6.0, 2 / 7), rel=0.02)


def test_a_penalty_drops_what_few_vehicles_say() -> None:
    few = ((b"\1", 2, 1), (b"\0", 1, 2), (b"\2", 30, 60))
    assert fit_beside(_flow(dirty=(2.0, 0.5)), _told_worn(*few)).flow.signs["leaves"].beside == {}


@pytest.mark.usefixtures("unpenalised")
def test_the_limit_lets_one_single_fault_in_seven_be_told_a_second() -> None:
    """10 of 120 single faults show leaves, under 15 %, so that the limit lies at the sign being unknown."""
    found = fit_beside(_flow(dirty=(2.0, 0.5)), _told_worn(*COUNTED))
    assert found.also == 1.0
    assert found.flow.limits.also == 1.0
    often = fit_beside(_flow(dirty=(2.0, 0.5)), _told_worn((b"\1", 60, 20), (b"\0", 10, 70)))
    assert log(often.also) == pytest.approx(log(often.flow.signs["leaves"].beside["dirty"][0]), abs=0.02)


def test_first_findings_of_no_use() -> None:
    """Proved ones are not weighed; health and doubt have no second finding."""
    of_no_use = [
        result(0, (WORN, DIRTY), told, signs=b"\1", traffic=Traffic({"weigh-up": 1}))
        for told in (
            said("worn", proved=True),
            said("no-fault", ("no-fault", 0.9)),
            said("inconclusive", ("worn", 0.4)),
        )
    ]
    with pytest.raises(TooFew, match="use more"):
        fit_beside(_flow(dirty=(2.0, 0.5)), of_no_use)


@pytest.mark.usefixtures("unpenalised")
def test_the_first_finding_has_odds_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside worn 3 of 4 are dirty, beside frozen 1 of 4: nine times the odds, whatever the sign."""
    monkeypatch.setattr(beside, "FIRST", 1e-6)
    silent = (b"\2", 30, 10), (b"\2", 10, 30)
    worn, frozen = (_told(name, one) for name, one in zip(("worn", "frozen"), silent, strict=True))
    found = fit_beside(_flow("frozen", dirty=(2.0, 0.5)), [*worn, *frozen]).flow
    odds = [found.beside.get(first, {}).get("dirty", 1.0) for first in ("worn", "frozen")]
    assert odds[0] / odds[1] == pytest.approx(9.0, rel=0.05)


@pytest.mark.usefixtures("unpenalised")
def test_walks_that_stopped_early_are_not_learned_from() -> None:
    early = _told_worn((b"\1", 0, 500), at="early")
    found = fit_beside(_flow(dirty=(2.0, 0.5)), [*_told_worn(*COUNTED), *early])
    assert found.flow.signs["leaves"].beside["dirty"] == pytest.approx((6.0, 2 / 7), rel=0.02)


@pytest.mark.usefixtures("unpenalised")
def test_lines_for_the_flow() -> None:
    found = fit_beside(_flow(dirty=(2.0, 0.5)), _told_worn(*COUNTED))
    assert [name for name, _ in columns(found.flow)] == ["leaves"]
    *_, of_sign, _head = beside_lines(found, "fleet", 1_000_007)
    assert of_sign.startswith("leaves: {beside: {dirty: [6, 0.29")
    *_, last = beside_lines(replace(found, flow=replace(found.flow, beside={"worn": {"dirty": 0.5}})), "", 7)
    assert last == "  worn: {dirty: 0.5}"


def test_a_fit_begins_from_the_present_odds_and_few_vehicles_do_not_move_them() -> None:
    plain = _flow(dirty=(2.0, 0.5))
    leaves = replace(plain.signs["leaves"], beside={"dirty": (500.0, 0.5)})
    there = replace(plain, signs={"leaves": leaves}, beside={"worn": {"dirty": 0.4}})
    found = fit_beside(there, _told_worn((b"\1", 1, 0), (b"\0", 0, 1))).flow
    assert found.signs["leaves"].beside == {"dirty": (500.0, 0.5)}
    assert found.beside == {"worn": {"dirty": 0.4}}


@pytest.mark.usefixtures("unpenalised")
def test_what_a_reasoned_sign_says_of_a_second_finding_stays() -> None:
    plain = _flow(dirty=(2.0, 0.5))
    leaves = replace(plain.signs["leaves"], beside={"dirty": (1.5, 0.9)}, reasoned=True)
    found = fit_beside(replace(plain, signs={"leaves": leaves}), _told_worn(*COUNTED)).flow
    assert found.signs["leaves"].beside == {"dirty": (1.5, 0.9)}
