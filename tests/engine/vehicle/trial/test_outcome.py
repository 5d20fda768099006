"""The five outcomes, told from what was really wrong."""

import pytest

from engine.job.state import Conclusion, Ranked
from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.outcome import Outcome, judge, told
from tests.engine.vehicle.trial.made import DIRTY, FROZEN, SNAPPED, WORN, said
from tests.engine.vehicle.trial.yard import yard_flow


@pytest.mark.parametrize(
    ("faults", "finding", "outcome"),
    [
        ((), "no-fault", Outcome.CORRECT),
        ((), "worn", Outcome.FALSE_ALARM),
        ((), "inconclusive", Outcome.NO_ANSWER),
        ((), "not-covered", Outcome.NO_ANSWER),
        ((), "high-voltage", Outcome.FALSE_ALARM),
        ((WORN,), "worn", Outcome.CORRECT),
        ((WORN,), "dirty", Outcome.MISDIAGNOSED),
        ((WORN,), "no-fault", Outcome.MISSED),
        ((WORN,), "inconclusive", Outcome.NO_ANSWER),
        ((FROZEN,), "frozen", Outcome.CORRECT),
        ((FROZEN,), "dirty", Outcome.CORRECT),  # what brought the ice about
        ((DIRTY,), "frozen", Outcome.MISDIAGNOSED),  # not the other way round
        ((WORN, SNAPPED), "snapped", Outcome.CORRECT),
        ((WORN, SNAPPED), "no-fault", Outcome.MISSED),
        ((WORN,), "not-verified", Outcome.CORRECT),  # something is wrong, whatever it is
        ((), "not-verified", Outcome.FALSE_ALARM),
    ],
)
def test_judged(faults: tuple[Fault, ...], finding: str, outcome: Outcome) -> None:
    assert judge(faults, said(finding)) is outcome


def test_another_name_of_health_is_health() -> None:
    ranked = (Ranked("no-fault", 0.9, (), ()),)
    spoken = told(yard_flow(), Conclusion("resting", "weigh-up", ranked=ranked))
    assert spoken.finding == "no-fault"
    assert judge((), spoken) is Outcome.CORRECT
    assert spoken.names == frozenset()


def test_first_two_are_the_finding_and_the_best_beside_it() -> None:
    ranked = (("worn", 0.6), ("dirty", 0.3), ("no-fault", 0.1))
    assert said("worn", *ranked).first_two == ("worn", "dirty")
    assert said("inconclusive", *ranked).first_two == ("worn", "dirty")
    assert said("snapped", proved=True).first_two == ("snapped",)


def test_names_are_the_faults_that_were_named() -> None:
    assert said("worn", also="dirty").names == {"worn", "dirty"}
    assert said("inconclusive").names == frozenset()
