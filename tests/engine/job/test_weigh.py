"""Weighing by hand: priors, odds, what is ruled out, and the evidence told."""

from __future__ import annotations

from math import inf

import pytest

from engine.flow.model import Flow
from engine.job.facts import Facts
from engine.job.hearing import listen
from engine.job.weigh import Heard, alive, evidence, log_odds, posterior, shares

from .little import finding, flow, is_, over, sign

WEAK, STUCK, HEALTHY = finding("weak", 1.0), finding("stuck", 2.0), finding("no-fault", 1.0)
MADE = flow(
    findings=(
        WEAK,
        STUCK,
        HEALTHY,
        finding("proved-only", 0.0),
        finding("part-stroke", 5.0, same_as="no-fault"),
    ),
    signs=(
        sign("pulled-apart", over("loaded.high_side", 1e6), weak=(0.5, 4.0), no_fault=(2.0, 1.0)),
        sign("turns", is_("turns", "yes"), stuck=(3.0, 1.0)),
    ),
)


def hear(made: Flow, facts: Facts) -> tuple[Heard, ...]:
    return listen(made, facts).heard


def test_without_evidence_the_priors_are_shared_out() -> None:
    assert posterior(MADE, hear(MADE, Facts())) == pytest.approx(
        {"weak": 0.25, "stuck": 0.5, "no-fault": 0.25}
    )


def test_true_and_false_signs_multiply_the_odds_and_unknown_ones_weigh_nothing() -> None:
    """High side low: weak 1 x 4; turning: stuck 2 x 3; healthy 1 x 1. Shares 4, 6, 1 of 11."""
    known = Facts({"loaded.high_side": 5e5, "turns": "yes"})
    assert posterior(MADE, hear(MADE, known)) == pytest.approx(
        {"weak": 4 / 11, "stuck": 6 / 11, "no-fault": 1 / 11}
    )
    half = Facts({"loaded.high_side": 2e6})
    assert posterior(MADE, hear(MADE, half)) == pytest.approx(
        {"weak": 0.5 / 4.5, "stuck": 2 / 4.5, "no-fault": 2 / 4.5}
    )


def test_what_is_ruled_out_leaves_its_share_to_the_others() -> None:
    assert posterior(MADE, hear(MADE, Facts()), {"stuck"}) == pytest.approx({"weak": 0.5, "no-fault": 0.5})


def test_nothing_left_has_no_shares() -> None:
    assert posterior(MADE, hear(MADE, Facts()), {"weak", "stuck", "no-fault"}) == {}


def test_a_finding_weighed_as_another_and_one_that_is_only_proved_take_no_part() -> None:
    assert set(posterior(MADE, hear(MADE, Facts()))) == {"weak", "stuck", "no-fault"}


def test_alive_counts_a_finding_and_its_other_telling_once() -> None:
    assert alive(MADE, hear(MADE, Facts()), (), ("part-stroke", "no-fault", "weak")) == ("no-fault", "weak")
    assert alive(MADE, hear(MADE, Facts()), ("weak",), ("no-fault", "weak", "proved-only")) == ("no-fault",)


def test_evidence_comes_strongest_first_and_leaves_out_what_says_nothing() -> None:
    many = flow(
        findings=(WEAK,),
        signs=(
            sign("a-little", is_("turns", "yes"), weak=(2.0, 1.0)),
            sign("says-nothing", is_("turns", "no"), weak=(9.0, 1.0)),
            sign("strongly-against", is_("turns", "yes"), weak=(0.05, 1.0)),
            sign("not-heard", is_("never", "x"), weak=(50.0, 1.0)),
        ),
    )
    spoken = evidence(hear(many, Facts({"turns": "yes"})), "weak")
    assert [(one.sign, one.odds) for one in spoken] == [("strongly-against", 0.05), ("a-little", 2.0)]
    assert spoken[1].says == "a-little says"


def test_odds_of_nought_end_a_finding_and_never_an_error() -> None:
    never = flow(
        findings=(WEAK, STUCK),
        signs=(sign("never", is_("turns", "yes"), weak=(0.0, 1.0)),),
    )
    assert posterior(never, hear(never, Facts({"turns": "yes"}))) == {"weak": 0.0, "stuck": 1.0}
    assert log_odds(0.0) == -inf
    assert shares({"weak": -inf, "stuck": -inf}) == {"weak": 0.5, "stuck": 0.5}
