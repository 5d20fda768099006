"""A correct flow becomes the model it says, in SI, with cautions merged and defaults filled in."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from engine.flow.library import Source
from engine.flow.load import lint_problems, load_bundle, load_kept, load_path
from engine.flow.model import Flow, Limits
from engine.physics.quantity import Kind
from tests.engine.flow.small import FLOW, changed, load

PSI = 6894.757293168  # NIST SP 811 (2008), appendix B.8


@pytest.fixture(scope="module")
def flow() -> Flow:
    return load()


def test_the_head(flow: Flow) -> None:
    assert (flow.name, flow.revision, flow.start) == ("small", 3, "weather")
    assert flow.title == "Does it answer the load?"
    assert flow.limits == Limits(settled=0.7, lead=3.0, outside=20.0, also=10.0, alive=0.02)


def test_quantities_come_in_si(flow: Flow) -> None:
    ambient = flow.readings["ambient_temperature"]
    assert (ambient.kind, ambient.unit) == (Kind.TEMPERATURE, "degC")
    assert ambient.plausible is not None
    assert (ambient.plausible.low, ambient.plausible.high) == pytest.approx((253.15, 323.15))
    low_side = flow.readings["low_side"]
    assert low_side.plausible is not None
    assert (low_side.plausible.low, low_side.plausible.high) == pytest.approx((-15 * PSI, 160 * PSI))
    high_side = flow.readings["high_side"]
    assert high_side.unit == "psi"  # the first unit of the quantity where none is written
    assert high_side.possible is not None
    assert (high_side.possible.low, high_side.possible.high) == pytest.approx((0.5e6, 4e6))
    assert (high_side.how, high_side.unknown_hint) == ("Read it.", "A pity.")


def test_choices_keep_their_order_and_words(flow: Flow) -> None:
    contamination = flow.readings["contamination"]
    assert [c.word for c in contamination.choices] == ["none", "air", "sealant"]
    assert (contamination.several, contamination.alone, contamination.kind) == (True, "none", None)


def test_sets(flow: Flow) -> None:
    baseline, loaded = flow.sets["baseline"], flow.sets["loaded"]
    assert baseline.speed == pytest.approx(25.0)  # 1500 a minute
    assert baseline.fixed == ("Doors shut.",)
    assert (loaded.load, loaded.compare_with, loaded.predict) == ("raised", "baseline", ("low_side", "duty"))


def test_cautions_of_exposures_are_merged_gravest_first(flow: Flow) -> None:
    assert flow.steps["base"].cautions == ("burst", "belt", "eyes", "note")
    assert flow.steps["more-load"].cautions == ("burst", "eyes")
    assert flow.steps["weather"].cautions == ()


def test_settle_times_and_what_settled_means(flow: Flow) -> None:
    assert (flow.steps["base"].settle, flow.steps["more-load"].settle) == (120.0, 180.0)
    assert flow.steps["base"].settled == "Nothing moves for a minute."
    assert flow.steps["more-load"].settled == "The vent stands still."
    assert flow.steps["weather"].settled == ""


def test_rules(flow: Flow) -> None:
    step = flow.steps["more-load"]
    assert step.next is not None
    first, second = step.next.rules
    assert (first.go, first.rule_out, first.because) == (None, ("stuck",), "it answered the load")
    assert second.go == "more-load"
    assert second.when.names == ("ambient_temperature", "loaded.duty")
    assert second.when.guarded == {"loaded.duty"}
    assert (step.next.unknown, step.next.otherwise) == ("speed", "speed")
    plain = flow.steps["base"].next
    assert plain is not None
    assert (plain.rules, plain.unknown, plain.otherwise) == ((), None, "more-load")


def test_a_step_that_resumes_leads_nowhere_else(flow: Flow) -> None:
    assert flow.steps["cool"].resume
    assert flow.steps["cool"].next is None
    assert (flow.watch[0].go, flow.watch[0].again) == ("cool", "stop")


def test_conclude_all_is_what_signs_weigh(flow: Flow) -> None:
    # not 'part' (told in place of 'fine'), not what can only be proved
    assert flow.steps["judge"].conclude == ("fine", "weak", "stuck")


def test_odds_in_words_and_numbers(flow: Flow) -> None:
    weighs = flow.signs["answers"].weighs
    assert weighs["fine"] == (5.0, 0.2)
    assert weighs["weak"] == pytest.approx((1 / 5, 1.0))
    assert weighs["stuck"] == pytest.approx((1 / 20, 2.0))
    assert flow.signs["fan-off"].weighs["fine"] == (0.5, 1.0)


def test_odds_beside_another_finding(flow: Flow) -> None:
    assert flow.signs["fan-off"].beside == {}
    text = changed(
        ("weighs: {fine: 0.5}", "weighs: {fine: 0.5}\n    beside: {weak: [strong, 0.5], stuck: 3}")
    )
    assert load(text).signs["fan-off"].beside == {"weak": (20.0, 0.5), "stuck": (3.0, 1.0)}


def test_odds_that_a_finding_told_first_puts_on_others(flow: Flow) -> None:
    assert flow.beside == {}
    text = changed(
        ("start: weather", "beside: {weak: {stuck: against fair, fine: 3}}\nstart: weather"),
        ("weighs: {fine: 0.5}", "weighs: {fine: 0.5}\n    beside: {stuck: 3}"),
    )
    made = load(text)
    assert made.beside == {"weak": {"stuck": 0.2, "fine": 3.0}}


def test_findings(flow: Flow) -> None:
    weak = flow.findings["weak"]
    assert (weak.prior, weak.rivals, weak.verify) == (0.5, {"stuck": "Raise the speed."}, ("Measure again.",))
    part = flow.findings["part"]
    assert part.same_as == "fine"
    assert part.told_when is not None
    assert part.told_when.evaluate({"loaded.duty": 0.41})


def test_words_that_yaml_would_change_stay_words() -> None:
    text = FLOW.replace("{runs: Runs, stopped: Stopped}", "{yes: off, no: 12:30, stopped: 017, null: 1_000}")
    choices = load(text).readings["fan"].choices
    assert [(c.word, c.label) for c in choices] == [
        ("yes", "off"),
        ("no", "12:30"),
        ("stopped", "017"),
        ("null", "1_000"),
    ]


def test_the_hash_covers_every_file_and_nothing_else(tmp_path: Path) -> None:
    first = load().hash
    assert first == load().hash
    assert len(first) == len(hashlib.sha256().hexdigest())
    assert load(FLOW + "# a comment\n").hash != first


def test_a_file_and_its_kept_bytes_are_the_same_flow(tmp_path: Path) -> None:
    path = tmp_path / "small.yaml"
    path.write_text(FLOW)
    from_file = load_path(path)
    kept, bundle = load_kept(Source("small", path))
    again = load_bundle(bundle.files, bundle.main)
    assert from_file.hash == kept.hash == again.hash == bundle.hash
    assert lint_problems(path) == []


def test_line_ends_of_windows_and_a_byte_order_mark_are_fine() -> None:
    data = b"\xef\xbb\xbf" + FLOW.replace("\n", "\r\n").encode()
    assert load_bundle({"small.yaml": data}, "small.yaml").steps.keys() == load().steps.keys()
