"""What lint finds along the ways of a flow: questions, settling, gauges, exposure."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

import pytest

from tests.engine.flow.lint.clean import CLEAN, rules_of, told, told_of
from tests.engine.flow.small import changed, spot

JUDGE = "  judge:\n    title: Weigh up"


def before_judge(step: str) -> tuple[str, str]:
    """Puts a step `extra` between `more` and `judge`."""
    return ("    next: judge\n" + JUDGE, f"    next: extra\n  extra: {{{step}, next: judge}}\n" + JUDGE)


# --- asked twice


def test_a_reading_asked_again_on_every_way() -> None:
    assert told_of(before_judge("title: T, do: D, ask: [gap]")) == [
        ("asked-twice", "step 'extra' asks 'gap' again, which every way there has asked before")
    ]


def test_its_place_is_the_second_question() -> None:
    text = changed(before_judge("title: T, do: D, ask: [gap]"), text=CLEAN)
    (only,) = told(text)
    assert (only.line, only.column) == spot(text, "ask: [gap]", into=len("ask: ["))


def test_a_reading_recorded_again_into_a_set_that_was_not_begun_anew() -> None:
    step = "title: T, do: D, exposure: [pressurised, rotating], set: loaded, record: [high_side]"
    assert told_of(before_judge(step)) == [
        ("asked-twice", "step 'extra' asks 'loaded.high_side' again, which every way there has asked before")
    ]


def test_a_set_begun_anew_is_read_anew() -> None:
    step = (
        "title: T, do: D, exposure: [pressurised, rotating], set: loaded, settle: 3 min, record: [high_side]"
    )
    assert told_of(before_judge(step)) == []


def test_a_reading_that_one_way_did_not_ask_may_be_asked_again() -> None:
    text = changed(
        ("ask: [drive, scan_tool, codes, ambient_temperature, limit, gap]", "ask: [drive, limit]"),
        ("{when: drive is electric, go: judge}", "{when: drive is electric, go: extra}"),
        ("      - {when: gap < 3 K, go: gauges}\n      - {when: gap >= 3 K and gap < 9 K, go: gauges}\n", ""),
        before_judge("title: T, do: D, ask: [gap]"),
        ("  gauges:\n", "  warm: {title: T, do: D, ask: [gap], next: gauges}\n  gauges:\n"),
        ("      - unknown: gauges\n", "      - unknown: warm\n"),
        text=CLEAN,
    )
    assert "asked-twice" not in {one.rule for one in told(text)}


# --- used before it is asked


def test_known_before_anybody_asked() -> None:
    change = (
        "{when: drive is electric, go: judge}",
        "{when: known loaded.low_side and drive is belt, go: judge}",
    )
    found = told_of(change)
    assert ("used-before-asked", "rule 1 of step 'look' tests 'known loaded.low_side', but no way there asks it before") in found  # fmt: skip


def test_known_of_what_some_way_asks_is_what_known_is_for() -> None:
    text = changed(
        ("{when: drive is electric, go: judge}", "{when: drive is electric, go: base}"),
        ("ambient_temperature, limit, gap]", "limit, gap]"),
        ("cautions: [keep]\n    next: base", "cautions: [keep]\n    ask: [ambient_temperature]\n    next: base"),
        ("    record: [low_side, high_side]\n    next: more", "    record: [low_side, high_side]\n    next:\n      - {when: known ambient_temperature, go: more}\n      - unknown: judge\n      - otherwise: judge"),
        text=CLEAN,
    )  # fmt: skip
    assert told(text) == []


def test_a_reading_asked_before_what_its_ask_if_hangs_on() -> None:
    assert told_of(("ask: [drive, scan_tool, codes,", "ask: [drive, codes, scan_tool,")) == [
        ("used-before-asked", "step 'look' asks 'codes' before 'scan_tool', on which its 'ask_if' hangs")
    ]


def test_a_watch_rule_whose_limit_is_asked_too_late() -> None:
    found = told_of(("ambient_temperature, limit, gap]", "ambient_temperature, gap]"), before_judge("title: T, do: D, ask: [limit]"))  # fmt: skip
    assert found == [
        ("used-before-asked", "watch rule 'too-high' is blind in step 'base': 'limit' is not asked on the way look > gauges > base")
    ]  # fmt: skip


# --- signs and findings


def test_a_sign_whose_readings_no_walk_asks_both() -> None:
    text = changed(
        ("ambient_temperature, limit, gap]", "limit, gap]"),
        ("{when: drive is electric, go: judge}", "{when: drive is electric, go: apart}"),
        ("  gauges:\n", "  apart: {title: T, do: D, ask: [ambient_temperature], next: judge}\n  gauges:\n"),
        ("loaded.high_side - baseline.high_side >= 15 psi", "loaded.high_side > 15 psi and ambient_temperature > 5 degC"),
        text=CLEAN,
    )  # fmt: skip
    (only,) = told(text)
    assert only.rule == "dead-sign"
    assert "no walk asks both 'loaded.high_side' and 'ambient_temperature'" in only.what
    assert told(text.replace("15 psi and ambient", "15 psi or ambient")) == []


def test_steps_of_a_graded_sign_are_judged_like_signs() -> None:
    graded = "  warm: {reads: ambient_temperature, at: [10 degC, 70 degC], says: the day, weighs: {%s}}\n"
    text = changed(("signs:\n", "signs:\n" + graded % "fine: rises"), text=CLEAN)
    (only,) = told(text)  # 60 degC is the most that is possible
    assert (only.rule, only.line) == ("dead-sign", spot(text, "reads: ambient_temperature")[0])
    waiver = "start: look\nwaive: [{rule: dead-sign, at: warm, because: a hotter day may come}]"
    assert told(text.replace("start: look", waiver)) == []
    part = "findings:\n  lost: {title: Lost, means: M}\n"
    lost = changed(
        ("signs:\n", "signs:\n" + (graded % "lost: rises").replace("70", "50")),
        ("start: look", "start: look\nuse: [more.yaml]"),
        text=CLEAN,
    )
    (only,) = told(lost, more=part)
    assert only.what == "sign 'warm' weighs 'lost', which no step concludes"


def test_a_graded_sign_whose_readings_no_walk_asks_both() -> None:
    text = changed(
        ("ambient_temperature, limit, gap]", "limit, gap]"),
        ("{when: drive is electric, go: judge}", "{when: drive is electric, go: apart}"),
        ("  gauges:\n", "  apart: {title: T, do: D, set: rested, record: [ambient_temperature], next: judge}\n  gauges:\n"),
        ("    record: [low_side, high_side]\n    next: more", "    record: [low_side, high_side, ambient_temperature]\n    next: more"),
        ("sets:\n", "sets:\n  rested: {label: Rested, load: rest}\n"),
        ("signs:\n", "signs:\n  rise: {reads: rested.ambient_temperature - baseline.ambient_temperature, at: [1 K], says: it rose, weighs: {fine: rises}}\n"),
        text=CLEAN,
    )  # fmt: skip
    found = {(one.rule, one.what.partition(":")[0]) for one in told(text)}
    assert ("dead-sign", "sign 'rise' can never be true") in found


def test_a_part_s_finding_that_signs_weigh_and_nothing_concludes() -> None:
    part = "findings:\n  lost: {title: Lost, means: M}\n  spare: {title: Spare, means: M}\n"
    text = changed(
        ("start: look", "start: look\nuse: [more.yaml]"),
        ("weak: [0.2, 2]}", "weak: [0.2, 2], lost: 3}"),
        text=CLEAN,
    )
    assert [(one.rule, one.what) for one in told(text, more=part)] == [
        ("finding-never-concluded", "sign 'answers' weighs 'lost', which no step concludes")
    ]


def test_a_candidate_that_no_sign_speaks_for() -> None:
    assert told_of(("weak: [0.2, 2]", "weak: [0.2, 1]")) == [
        ("finding-without-sign", "no sign speaks for finding 'weak'")
    ]


# --- settling


def test_readings_into_a_set_that_nothing_has_begun_on_one_way() -> None:
    found = told_of(
        ("{when: drive is electric, go: judge}", "{when: drive is electric, go: extra}"),
        before_judge(
            "title: T, do: D, exposure: [pressurised, rotating], set: loaded, record: [ambient_temperature]"
        ),
        ("ambient_temperature, limit, gap]", "limit, gap]"),
    )
    assert found == [
        ("settle-missing", "step 'extra' records into set 'loaded' without a settle time, and nothing has begun it on some way")
    ]  # fmt: skip


def test_readings_into_a_set_after_another_was_taken() -> None:
    found = told_of(
        before_judge(
            "title: T, do: D, exposure: [pressurised, rotating], set: baseline, record: [ambient_temperature]"
        ),
        ("ambient_temperature, limit, gap]", "limit, gap]"),
    )
    assert found == [
        ("settle-missing", "step 'extra' records into set 'baseline' without a settle time, and 'loaded' may have been taken since")
    ]  # fmt: skip


def test_further_readings_of_the_set_just_begun_need_no_settling() -> None:
    found = told_of(
        before_judge(
            "title: T, do: D, exposure: [pressurised, rotating], set: loaded, record: [ambient_temperature]"
        ),
        ("ambient_temperature, limit, gap]", "limit, gap]"),
    )
    assert found == []


# --- gauges


def test_gauges_that_stay_on() -> None:
    assert told_of(("Take the gauges off.", "Close the bonnet.")) == [
        ("gauges-left-on", "gauges connected in step 'gauges' are still on where the walk ends: gauges > base > judge > off")
    ]  # fmt: skip


def test_gauges_that_stay_on_after_one_conclusion_of_two() -> None:
    found = told_of(
        ("watch:\n  - {name: too-high, when: high_side >= limit, because: The limit is reached., go: judge}", "watch:\n  - {name: too-high, when: high_side >= limit, because: The limit is reached., go: halt}"),
        ("signs:\n", "  halt: {title: Halt, conclude: [fine, weak]}\nsigns:\n"),
    )  # fmt: skip
    assert [rule for rule, _ in found] == ["gauges-left-on"]
    assert found[0][1].endswith("> halt")


@pytest.mark.parametrize(
    "off",
    [
        "Disconnect both hoses.",
        "Remove the couplers and close the ports.",
        "Shut the hoses and take them off.",
    ],
)
def test_ways_to_say_that_they_come_off(off: str) -> None:
    assert told_of(("Take the gauges off.", off)) == []


# --- exposure


def test_gauges_handled_without_the_caution_that_goes_with_it() -> None:
    assert told_of(("    exposure: [pressurised]\n    cautions: [keep]", "    cautions: [keep]")) == [
        ("exposed-without-caution", "step 'gauges' handles gauges or hoses without exposure 'pressurised'")
    ]


def test_a_running_set_without_the_caution_that_goes_with_it() -> None:
    change = (
        "    exposure: [pressurised, rotating]\n    set: loaded",
        "    exposure: [pressurised]\n    set: loaded",
    )
    assert told_of(change) == [
        ("exposed-without-caution", "step 'more' reads a running system without exposure 'rotating'")
    ]


def test_a_flow_whose_cautions_are_called_otherwise_must_warn_all_the_same() -> None:
    renamed = [("exposure: pressurised, text", "exposure: under-pressure, text")]
    text = changed(*renamed, text=CLEAN).replace("exposure: [pressurised", "exposure: [under-pressure")
    assert told(text) == []
    bare = text.replace("    exposure: [under-pressure]\n    cautions: [keep]", "    cautions: [keep]")
    (only,) = told(bare)
    assert only.what == "step 'gauges' handles gauges or hoses and shows no caution for people"


def test_a_step_that_only_looks_is_not_exposed() -> None:
    assert rules_of(before_judge("title: T, do: Look at the pulley.")) == set()


def test_gauges_that_another_flow_takes_over_are_not_left_on() -> None:
    other = CLEAN.replace("flow: clean", "flow: other")
    step = "  over: {title: Over, hand_over: other, carry: all}\n"
    text = changed(("    next: judge\n  judge:", f"    next: over\n{step}  judge:"), text=CLEAN)
    assert told(text, other=other) == []
