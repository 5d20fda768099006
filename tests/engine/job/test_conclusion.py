"""When a ranking is a finding, what else is told beside it, and what would part the first two."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.flow.model import INCONCLUSIVE, Finding, Flow, SetState, Sign, Step, Value
from engine.job.conclusion import MOST_RANKED, conclude
from engine.job.facts import Facts
from engine.job.replay.run import replay_file
from engine.job.state import Conclusion, NextMeasurement, RuledOut
from engine.job.walk import advance, begin
from engine.physics.quantity import Kind

from .little import both, choice, finding, flow, is_, over, quantity, sign, to

EXAMPLES = Path(__file__).parents[3] / "flows" / "examples"
YES = Facts({"turns": "yes"})


def concluded(
    signs: tuple[Sign, ...],
    facts: Facts = YES,
    candidates: tuple[str, ...] = ("weak", "stuck"),
    findings: tuple[Finding, ...] = (finding("weak"), finding("stuck"), finding("no-fault")),
    ruled_out: Mapping[str, RuledOut] | None = None,
    told_first: Mapping[str, Mapping[str, float]] | None = None,
    **more: Any,
) -> Conclusion:
    weigh = Step("weigh", "Weigh", conclude=candidates)
    made = replace(flow(weigh, findings=findings, signs=signs, **more), beside=told_first or {})
    return conclude(made, facts, weigh, ruled_out or {})


def test_the_best_candidate_is_the_finding_with_its_evidence() -> None:
    """6 to 1: six sevenths."""
    found = concluded((sign("heard", is_("turns", "yes"), weak=(3.0, 1.0), stuck=(0.5, 1.0)),))
    assert (found.finding, found.step, found.proved_by) == ("weak", "weigh", None)
    assert [one.finding for one in found.ranked] == ["weak", "stuck"]
    assert found.ranked[0].probability == pytest.approx(6 / 7)
    assert [(one.sign, one.odds) for one in found.ranked[0].for_] == [("heard", 3.0)]
    assert [(one.sign, one.odds) for one in found.ranked[1].against] == [("heard", 0.5)]


@pytest.mark.parametrize(
    ("odds", "finding_told"),
    [(1.4, INCONCLUSIVE), (1.9, INCONCLUSIVE), (2.1, "weak")],
)
def test_under_the_settled_share_or_the_lead_it_is_inconclusive(odds: float, finding_told: str) -> None:
    """1.4 to 1 is 58 %, under 60; 1.9 to 1 is 66 %, but under 2 to 1; 2.1 to 1 is both."""
    found = concluded((sign("heard", is_("turns", "yes"), weak=(odds, 1.0)),))
    assert found.finding == finding_told
    assert found.ranked[0].finding == "weak"


def test_three_alike_rivals_keep_the_best_from_being_settled() -> None:
    """3 to 1 against each of three is one half: a lead, but not settled."""
    found = concluded(
        (sign("heard", is_("turns", "yes"), weak=(3.0, 1.0)),),
        candidates=("weak", "stuck", "low", "over"),
        findings=tuple(finding(name) for name in ("weak", "stuck", "low", "over")),
    )
    assert found.finding == INCONCLUSIVE


def test_a_prior_alone_is_never_a_finding() -> None:
    findings = (finding("weak", 9.0), finding("stuck", 1.0))
    assert concluded((), findings=findings).finding == INCONCLUSIVE


def test_the_last_candidate_left_is_the_finding() -> None:
    out = {"stuck": RuledOut("stuck", "speed", "it answered the speed")}
    found = concluded((), ruled_out=out)
    assert (found.finding, found.ruled_out) == ("weak", (out["stuck"],))
    assert [one.finding for one in found.ranked] == ["weak"]


def test_no_candidate_left_is_inconclusive() -> None:
    out = {name: RuledOut(name, "s", "") for name in ("weak", "stuck")}
    found = concluded((), ruled_out=out)
    assert (found.finding, found.ranked, found.outside) == (INCONCLUSIVE, (), None)


@pytest.mark.parametrize(("odds", "outside"), [(19.0, None), (21.0, "elsewhere")])
def test_a_finding_outside_that_beats_the_best_inside_is_shown_and_nothing_settled(
    odds: float, outside: str | None
) -> None:
    heard = sign("heard", is_("turns", "yes"), weak=(3.0, 1.0), elsewhere=(3.0 * odds, 1.0))
    found = concluded(
        (heard,), findings=(finding("weak"), finding("stuck"), finding("elsewhere"), finding("no-fault"))
    )
    assert found.outside == outside
    assert found.finding == ("weak" if outside is None else INCONCLUSIVE)


def test_at_most_eight_are_ranked() -> None:
    names = [f"finding-{number}" for number in range(12)]
    found = concluded((), candidates=tuple(names), findings=tuple(finding(name) for name in names))
    assert len(found.ranked) == MOST_RANKED == 8


def test_one_direct_test_proves_without_a_probability() -> None:
    step = Step("ohms", "Ohms", proved="solenoid-open")
    made = flow(step, findings=(finding("solenoid-open", 0.0), finding("weak")))
    found = conclude(made, Facts(), step, {}, interrupted=True)
    assert found == Conclusion("solenoid-open", "ohms", proved_by="ohms", interrupted=True)


@pytest.mark.parametrize(
    ("turns", "ruled_out", "told"),
    [("yes", (), "part-stroke"), ("no", (), "no-fault"), ("yes", ("part-stroke",), "no-fault")],
)
def test_a_healthy_state_is_told_in_the_way_that_fits(
    turns: str, ruled_out: tuple[str, ...], told: str
) -> None:
    healthy = sign("moves", over("loaded.high_side", 1.0), no_fault=(20.0, 1.0))
    findings = (
        finding("weak"),
        finding("no-fault"),
        finding("part-stroke", same_as="no-fault", told_when=is_("turns", "yes")),
    )
    found = concluded(
        (healthy,),
        Facts({"loaded.high_side": 2.0, "turns": turns}),
        candidates=("weak", "part-stroke", "no-fault"),
        findings=findings,
        ruled_out={name: RuledOut(name, "s", "") for name in ruled_out},
    )
    assert found.finding == told
    assert [one.finding for one in found.ranked] == ["no-fault", "weak"]


# --- a second finding

FAULTS = tuple(finding(name) for name in ("weak", "stuck", "fan", "no-fault"))
WEAKNESS = sign("low-rise", is_("turns", "yes"), weak=(20.0, 1.0), fan=(0.5, 1.0))
BOTH_SEEN = Facts({"turns": "yes", "fan": "stopped"})


def fan_sign(fan: tuple[float, float], **others: tuple[float, float]) -> Sign:
    return sign("fan-stopped", is_("fan", "stopped"), fan=fan, **others)


def test_what_the_first_cannot_explain_is_told_as_a_second_finding() -> None:
    found = concluded((WEAKNESS, fan_sign((12.0, 1.0))), BOTH_SEEN, findings=FAULTS)
    assert (found.finding, found.also) == ("weak", "fan")
    assert [(one.sign, one.odds) for one in found.also_for] == [("fan-stopped", 12.0)]


def test_the_limit_is_ten_to_one_against_health() -> None:
    assert concluded((WEAKNESS, fan_sign((9.0, 1.0))), BOTH_SEEN, findings=FAULTS).also is None
    against_health = fan_sign((6.0, 1.0), no_fault=(0.5, 1.0))
    assert concluded((WEAKNESS, against_health), BOTH_SEEN, findings=FAULTS).also == "fan"


def test_a_sign_the_first_explains_is_no_evidence_for_a_second() -> None:
    explained = fan_sign((50.0, 1.0), weak=(2.0, 1.0))
    assert concluded((WEAKNESS, explained), BOTH_SEEN, findings=FAULTS).also is None


def test_a_sign_that_is_false_never_makes_a_second_finding_by_itself() -> None:
    running = Facts({"turns": "yes", "fan": "runs"})
    assert concluded((WEAKNESS, fan_sign((1.0, 30.0))), running, findings=FAULTS).also is None


def test_what_is_ruled_out_is_no_second_finding() -> None:
    out = {"fan": RuledOut("fan", "look", "the fan ran")}
    strong = (WEAKNESS, fan_sign((50.0, 1.0)))
    assert concluded(strong, BOTH_SEEN, findings=FAULTS, ruled_out=out).also is None


def test_there_is_no_second_finding_beside_health_nor_beside_doubt() -> None:
    well = sign("well", is_("turns", "yes"), no_fault=(200.0, 1.0))
    odd = fan_sign((12.0, 1.0))
    healthy = concluded((well, odd), BOTH_SEEN, candidates=("no-fault", "weak"), findings=FAULTS)
    assert (healthy.finding, healthy.also) == ("no-fault", None)
    doubtful = concluded((odd,), BOTH_SEEN, findings=FAULTS)
    assert (doubtful.finding, doubtful.also) == (INCONCLUSIVE, None)


# --- a second finding by odds of its own


def beside(name: str, word: str, **odds: tuple[float, float]) -> Sign:
    """A sign that says nothing of the first finding and all of the second."""
    return replace(sign(name, is_("fan", word)), beside=odds)


@pytest.mark.parametrize(("odds", "also"), [(9.0, None), (11.0, "fan")])
def test_odds_of_its_own_make_a_second_finding_from_ten_to_one(odds: float, also: str | None) -> None:
    signs = (WEAKNESS, beside("fan-stopped", "stopped", fan=(odds, 1.0)))
    assert concluded(signs, BOTH_SEEN, findings=FAULTS).also == also


@pytest.mark.parametrize(
    ("odds", "told_first", "also"),
    [
        (30.0, {"weak": {"fan": 0.3}}, None),
        (40.0, {"weak": {"fan": 0.3}}, "fan"),
        (6.0, {"weak": {"fan": 2.0}}, "fan"),
        (30.0, {"stuck": {"fan": 0.3}}, "fan"),
        (30.0, {"weak": {"stuck": 0.3}}, "fan"),
    ],
)
def test_the_first_finding_explains_another_or_hides_it(
    odds: float, told_first: Mapping[str, Mapping[str, float]], also: str | None
) -> None:
    """Ten to one is needed: 30 x 0.3 is 9, 40 x 0.3 is 12, 6 x 2 is 12; only the pair that is told counts."""
    signs = (WEAKNESS, beside("fan-stopped", "stopped", fan=(odds, 1.0)))
    assert concluded(signs, BOTH_SEEN, findings=FAULTS, told_first=told_first).also == also


def test_where_a_sign_has_odds_beside_what_is_left_over_says_nothing() -> None:
    left_over = fan_sign((50.0, 1.0))
    assert concluded((WEAKNESS, left_over), BOTH_SEEN, findings=FAULTS).also == "fan"
    other = beside("fan-runs", "runs", stuck=(30.0, 1.0))
    assert concluded((WEAKNESS, left_over, other), BOTH_SEEN, findings=FAULTS).also is None


def test_odds_beside_are_multiplied_and_the_greatest_product_is_told() -> None:
    signs = (
        beside("one", "stopped", fan=(4.0, 1.0), stuck=(12.0, 1.0)),
        beside("two", "runs", fan=(1.0, 4.0), stuck=(1.0, 0.5)),
    )
    found = concluded((WEAKNESS, *signs), BOTH_SEEN, findings=FAULTS)
    assert found.also == "fan"
    assert [(one.sign, one.says, one.odds) for one in found.also_for] == [
        ("one", "one says", 4.0),
        ("two", "not so: two says", 4.0),
    ]


def test_odds_beside_tell_neither_the_first_again_nor_what_is_ruled_out_nor_health() -> None:
    odd = beside("odd", "stopped", weak=(50.0, 1.0), fan=(40.0, 1.0))
    out = {"fan": RuledOut("fan", "look", "the fan ran")}
    assert concluded((WEAKNESS, odd), BOTH_SEEN, findings=FAULTS, ruled_out=out).also is None
    well = sign("well", is_("turns", "yes"), no_fault=(200.0, 1.0))
    healthy = concluded((well, odd), BOTH_SEEN, candidates=("no-fault", "weak"), findings=FAULTS)
    assert (healthy.finding, healthy.also) == ("no-fault", None)


# --- what to measure next


def asking(*signs: Sign) -> Flow:
    """Weak or stuck; every reading is asked by some step."""
    look = Step("look", "Look", ask=("turns", "fan", "speed"), next=to("take"))
    take = Step("take", "Take", set="loaded", record=("low_side", "high_side"), next=to("weigh"))
    return flow(
        look,
        take,
        Step("weigh", "Weigh", conclude=("weak", "stuck")),
        readings=(choice("fan", "runs", "slow", "stopped"), quantity("speed", Kind.TEMPERATURE, "degC")),
        sets=(SetState("loaded", "Loaded", "raised"),),
        findings=(finding("weak"), finding("stuck"), finding("no-fault")),
        signs=signs,
    )


def parting(made: Flow, **known: Value) -> NextMeasurement | None:
    facts = Facts({name.replace("__", "."): value for name, value in known.items()})
    return conclude(made, facts, made.steps["weigh"], {}).next_measurement


def test_the_reading_that_would_move_the_odds_most_is_named() -> None:
    made = asking(
        sign("slight", is_("fan", "stopped"), weak=(2.0, 1.0)),
        sign("strong", over("loaded.high_side", 1e6), weak=(0.05, 4.0), stuck=(1.0, 1.0)),
    )
    assert parting(made) == NextMeasurement("loaded.high_side", ("weak", "stuck"))
    assert parting(made, loaded__high_side=1.5e6) == NextMeasurement("fan", ("stuck", "weak"))


def test_a_sign_that_weighs_both_alike_parts_nothing() -> None:
    made = asking(sign("alike", is_("fan", "stopped"), weak=(9.0, 0.2), stuck=(9.0, 0.2)))
    assert parting(made) is None


def test_nothing_is_named_once_everything_is_known() -> None:
    made = asking(sign("one", is_("fan", "stopped"), weak=(2.0, 1.0)))
    assert parting(made, fan="runs") is None


def test_a_reading_no_step_asks_for_is_never_named() -> None:
    made = asking(sign("one", is_("colour", "red"), weak=(9.0, 1.0)))
    assert parting(made) is None


def test_both_outcomes_count_so_a_reading_that_mostly_says_nothing_comes_second() -> None:
    """Fan: 9 to 1 in one outcome of two, on average log 3. Pressure: 4 to 1 either way, log 4."""
    made = asking(
        sign("rare", is_("fan", "stopped"), weak=(9.0, 1.0)),
        sign("steady", over("loaded.high_side", 1e6), weak=(4.0, 0.25)),
    )
    assert parting(made) == NextMeasurement("loaded.high_side", ("weak", "stuck"))


def test_a_sign_that_needs_two_readings_is_worth_starting() -> None:
    made = asking(
        sign(
            "together",
            both(over("loaded.high_side", 1e6), over("loaded.low_side", 1e5)),
            weak=(9.0, 1.0),
        )
    )
    named = parting(made)
    assert named is not None
    assert named.reading in ("loaded.low_side", "loaded.high_side")


def test_a_computed_name_leads_to_the_reading_behind_it() -> None:
    made = asking(sign("apart", over("loaded.sides_apart", 1e6), weak=(0.1, 5.0)))
    assert parting(made, loaded__low_side=2e5) == NextMeasurement("loaded.high_side", ("weak", "stuck"))


def test_a_finding_outside_is_what_has_to_be_parted_from_the_best_inside() -> None:
    made = asking(
        sign("heard", is_("turns", "yes"), no_fault=(100.0, 1.0)),
        sign("parts-them", is_("fan", "stopped"), no_fault=(0.1, 3.0)),
    )
    assert parting(made, turns="yes") == NextMeasurement("fan", ("weak", "no-fault"))


def test_where_a_reading_must_come_first_no_other_is_advised() -> None:
    made = asking(sign("strong", over("loaded.high_side", 1e6), weak=(0.05, 4.0)))
    weigh = replace(made.steps["weigh"], measure_first="fan")
    assert conclude(made, Facts(), weigh, {}).next_measurement == NextMeasurement("fan", ("weak", "stuck"))
    assert conclude(made, Facts({"fan": "runs"}), weigh, {}).next_measurement is None


def test_a_sign_looked_for_and_not_found_is_told_as_such() -> None:
    heard = sign("noisy", is_("turns", "no"), weak=(4.0, 0.5))
    found = concluded((heard,))
    weak = next(one for one in found.ranked if one.finding == "weak")
    assert [one.says for one in weak.against] == [f"not so: {heard.says}"]


def test_what_is_held_back_is_ranked_and_not_told() -> None:
    """Ruled out it would leave the finding to its rival; held back it leaves it open."""
    signs = (sign("heard", is_("turns", "yes"), weak=(9.0, 1.0), stuck=(2.0, 1.0)),)
    held = {"weak": RuledOut("weak", "gate", "full command was never proved")}
    weigh = Step("weigh", "Weigh", conclude=("weak", "stuck"))
    whole = flow(weigh, findings=(finding("weak"), finding("stuck"), finding("no-fault")), signs=signs)
    found = conclude(whole, YES, weigh, {}, held)
    assert found.finding == INCONCLUSIVE
    assert found.held_back == held["weak"]
    assert found.ranked[0].finding == "weak"
    assert conclude(whole, YES, weigh, held).finding == "stuck"  # ruled out instead


def test_what_is_held_back_and_not_first_holds_nothing_up() -> None:
    weigh = Step("weigh", "Weigh", conclude=("weak", "stuck"))
    signs = (sign("heard", is_("turns", "yes"), weak=(9.0, 1.0)),)
    whole = flow(weigh, findings=(finding("weak"), finding("stuck"), finding("no-fault")), signs=signs)
    found = conclude(whole, YES, weigh, {}, {"stuck": RuledOut("stuck", "gate", "not seen")})
    assert (found.finding, found.held_back) == ("weak", None)


def test_a_step_that_only_ranks_concludes_nothing_however_clear() -> None:
    weigh = Step("weigh", "Weigh", conclude=("weak", "stuck"), ranks_only=True)
    signs = (sign("heard", is_("turns", "yes"), weak=(900.0, 1.0)),)
    whole = flow(weigh, findings=(finding("weak"), finding("stuck")), signs=signs)
    found = conclude(whole, YES, weigh, {})
    assert found.finding == INCONCLUSIVE
    assert found.ranked[0].probability > 0.99


def test_without_advice_everything_else_is_concluded_alike() -> None:
    advising = replay_file(str(EXAMPLES / "cool_day_inconclusive.yaml")).walk
    silent = begin(advising.flow, advises=False)
    for given in advising.answered.values():
        silent = advance(silent, given)
    assert advising.conclusion is not None
    assert advising.conclusion.next_measurement is not None
    assert silent.conclusion == replace(advising.conclusion, next_measurement=None)
