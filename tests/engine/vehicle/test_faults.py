"""Faults: severity is the effect it is told to be, and every finding of the main flow can be drawn."""

from random import Random

import pytest

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.fault_shapes import GRADED, ICING_CAUSES, SWITCHED, WAYS
from engine.vehicle.faults import FAULTS, FULL_LOSS, REFERENCE_LOAD, injure, together, total
from engine.vehicle.loop import settle

NOT_FAULTS = {"not-covered", "inconclusive", "high-voltage", "no-fault", "normal-part-stroke"}
CAR = reference()
SOUND = settle(CAR, NONE, REFERENCE_LOAD)


def loss(finding: str, severity: float, seed: int = 1) -> float:
    effects = injure(CAR, finding, severity, Random(seed)).effects
    return 1.0 - settle(CAR, effects, REFERENCE_LOAD).cooling_w / SOUND.cooling_w


def test_every_finding_of_the_main_flow_is_a_fault_except_those_that_name_none() -> None:
    flow = load_flow(find("stroke_by_load"))
    assert set(FAULTS) == set(flow.findings) - NOT_FAULTS


def test_reference_state_is_at_full_stroke_so_that_any_loss_of_pumping_is_a_loss_of_cooling() -> None:
    assert SOUND.active_limit == "stroke"


@pytest.mark.parametrize(
    "finding",
    [
        "weak-compressor",
        "stroke-valve-stuck-low",
        "undercharge",
        "expansion-valve-restricted",
        "evaporator-airflow",
    ],
)
def test_severity_one_costs_sixty_percent_and_half_of_it_half(finding: str) -> None:
    assert loss(finding, 1.0) == pytest.approx(FULL_LOSS, abs=0.02)
    assert loss(finding, 0.5) == pytest.approx(FULL_LOSS / 2.0, abs=0.02)


@pytest.mark.parametrize("finding", sorted(GRADED))
def test_no_severity_is_no_effect_on_cooling(finding: str) -> None:
    if finding in ("evaporator-icing", "stroke-valve-stuck-high"):
        return  # icing has a cause of its own size; a stroke stuck at 10 % is felt at low load only
    assert loss(finding, 0.0) == pytest.approx(0.0, abs=0.005)


def test_a_worse_fault_is_a_larger_effect() -> None:
    for finding in GRADED:
        mild, bad = (injure(CAR, finding, severity, Random(3)).effects for severity in (0.3, 0.9))
        assert mild != bad, finding


def test_surplus_oil_acts_by_its_amount_and_closes_no_tube() -> None:
    oily = injure(CAR, "oil-excess", 0.7, Random(1)).effects
    assert oily.oil_factor > 1.0
    assert oily == Effects(oil_factor=oily.oil_factor)
    assert loss("oil-excess", 1.0) > 2.0 * loss("oil-excess", 0.3) > 0.0


def test_undercharge_never_becomes_an_empty_system() -> None:
    worst = injure(CAR, "undercharge", 1.0, Random(1)).effects.charge_factor
    for seed in range(20):
        empty = injure(CAR, "system-empty", None, Random(seed)).effects.charge_factor
        assert empty <= 0.03 < 0.12 <= worst


def test_stuck_high_takes_no_cooling_and_is_told_by_the_stroke_it_keeps() -> None:
    for severity in (0.2, 0.6, 1.0):
        injury = injure(CAR, "stroke-valve-stuck-high", severity, Random(1))
        assert injury.effects.stroke_low == pytest.approx(0.10 + 0.85 * severity)


def test_icing_has_a_cause_that_acts_and_counts_as_naming_it() -> None:
    seen: set[str] = set()
    for seed in range(40):
        injury = injure(CAR, "evaporator-icing", 0.7, Random(seed))
        seen |= injury.causes
        acts = (
            injury.effects.stroke_low > 0.0,
            injury.effects.evaporator_sensor_k > 0.0,
            injury.effects.evaporator_airflow < 1.0,
        )
        assert [cause for cause, act in zip(ICING_CAUSES, acts, strict=True) if act] == list(injury.causes)
    assert seen == set(ICING_CAUSES)


def test_faults_that_are_there_or_not_ignore_severity() -> None:
    for finding in set(SWITCHED) & set(FAULTS):
        assert not FAULTS[finding]
        assert injure(CAR, finding, 0.1, Random(5)) == injure(CAR, finding, None, Random(5))


def test_same_chance_same_fault() -> None:
    for finding in WAYS:
        assert injure(CAR, finding, 0.5, Random("a")) == injure(CAR, finding, 0.5, Random("a"))


def test_pair_holds_both_effects() -> None:
    both = total([injure(CAR, "weak-compressor", 0.5, Random(1)), injure(CAR, "undercharge", 0.5, Random(1))])
    assert both.leak_area_m2 > 0.0
    assert both.charge_factor < 1.0


def test_what_contradicts_or_contains_each_other_is_no_pair() -> None:
    assert not together("undercharge", "overcharge")
    assert not together("stroke-valve-stuck-low", "stroke-valve-stuck-high")
    assert not together("weak-compressor", "weak-compressor")
    assert not together("evaporator-icing", "evaporator-airflow")
    assert together("stroke-valve-stuck-high", "evaporator-airflow")
    assert together("undercharge", "condenser-airflow")


def test_unknown_finding_and_impossible_severity_are_refused_in_words() -> None:
    with pytest.raises(KeyError, match="is no fault"):
        injure(CAR, "no-fault", 0.5, Random(1))
    with pytest.raises(ValueError, match="number from 0 to 1"):
        injure(CAR, "undercharge", 1.5, Random(1))
    with pytest.raises(ValueError, match="number from 0 to 1"):
        injure(CAR, "undercharge", None, Random(1))
