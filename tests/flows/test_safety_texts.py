"""Rules on the words and cautions of the main flow (references.md section 9, test 26).

Sources: 40 CFR 82.154(a) (no knowing release); SAE J2843 and J2912 (identifier before recovery);
ANSI Z535.4 (signal words).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from engine.flow.graph import edges
from engine.flow.model import Flow, Step
from tests.flows.walking import main_flow

# What nobody may be told to do. A text that forbids it says "never", "not", "no" or "nothing" before it.
FORBIDDEN = re.compile(
    r"\b(vent(ing)? (the )?(refrigerant|charge|system|hoses?)|purg\w+|blow (it |the charge )?(off|out)|"
    r"bridg\w+|jumper\w*|bypass\w*|battery (voltage )?on|run\w* (it |the compressor )?(empty|dry))",
    re.IGNORECASE,
)
FORBIDS = re.compile(r"\b(never|not|no|nothing|without|nor|don't|must not|may not)\b", re.IGNORECASE)
INJURY = re.compile(
    r"\b(burn|frostbite|injur\w+|kill\w*|death|shock|blind|crush|suffocat\w+|poison\w*)", re.IGNORECASE
)


def texts(flow: Flow) -> Iterator[tuple[str, str]]:
    for step in flow.steps.values():
        for text in (step.title, step.do, step.why, *step.how):
            yield step.id, text
    for caution in flow.cautions.values():
        yield caution.id, caution.text
    for finding in flow.findings.values():
        for text in (
            finding.means,
            *finding.confirm,
            *finding.repair,
            *finding.verify,
            *finding.rivals.values(),
        ):
            yield finding.id, text
    for reading in flow.readings.values():
        yield reading.name, reading.how


def sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.;!?])\s+", text)


def test_no_text_tells_to_vent_to_bridge_or_to_run_empty() -> None:
    bad = [
        (where, sentence)
        for where, text in texts(main_flow())
        for sentence in sentences(text)
        if FORBIDDEN.search(sentence) and not FORBIDS.search(sentence)
    ]
    assert bad == []


def test_the_rule_above_catches_what_it_should() -> None:
    assert FORBIDDEN.search("Vent the refrigerant into a bucket.")
    assert not FORBIDS.search("Vent the refrigerant into a bucket.")
    assert FORBIDDEN.search("Bridge the pressure switch.")


def test_notice_is_never_used_for_injury() -> None:
    bad = [c.id for c in main_flow().cautions.values() if c.signal == "NOTICE" and INJURY.search(c.text)]
    assert bad == []


def test_high_voltage_is_a_danger_or_a_warning() -> None:
    cautions = [
        c for c in main_flow().cautions.values() if c.exposure == "high-voltage" or "high-voltage" in c.id
    ]
    assert cautions
    assert {c.signal for c in cautions} <= {"DANGER", "WARNING"}


def test_every_caution_names_its_source() -> None:
    assert [c.id for c in main_flow().cautions.values() if not c.source] == []


def steps_before(flow: Flow, target: str) -> set[str]:
    """Steps that lie on every way from the start to `target`: without them it cannot be reached."""
    return {
        name for name in flow.steps if name not in (target, flow.start) and not _reaches(flow, target, name)
    }


def _reaches(flow: Flow, target: str, without: str) -> bool:
    ways = {name: [edge.target for edge in out] for name, out in edges(flow).items()}
    seen, todo = {without}, [flow.start]
    while todo:
        step = todo.pop()
        if step == target:
            return True
        if step not in seen:
            seen.add(step)
            todo += ways[step]
    return False


@pytest.mark.parametrize("later", ["gauges", "at-rest", "recover", "take-off-gauges"])
def test_nothing_is_connected_before_identifier_and_high_voltage_look(later: str) -> None:
    assert {"drive", "label", "protect", "identify"} <= steps_before(main_flow(), later)


@pytest.mark.parametrize("running", ["first-run", "baseline", "raise-load", "full-command", "ac-off"])
def test_nothing_runs_before_the_static_gate_and_making_safe(running: str) -> None:
    before = steps_before(main_flow(), running)
    assert {"static-gate", "shaft-by-hand"} <= before
    assert running == "make-safe" or "make-safe" in before


def test_every_exposed_step_shows_cautions_of_each_exposure() -> None:
    flow = main_flow()
    bare = [
        (step.id, exposure)
        for step in flow.steps.values()
        for exposure in step.exposure
        if not _shown(flow, step, exposure)
    ]
    assert bare == []


def _shown(flow: Flow, step: Step, exposure: str) -> bool:
    return any(flow.cautions[name].exposure == exposure for name in step.cautions)


def test_every_running_step_is_watched_for_the_high_side() -> None:
    flow = main_flow()
    begun = [step for step in flow.steps.values() if step.set not in (None, "static") and step.settle]
    assert {step.set for step in begun} == set(flow.sets) - {"static"}
    assert all("high_side" in step.record for step in begun)
    watched = {name for watch in flow.watch for name in watch.when.names}
    assert "high_side" in {name.rpartition(".")[2] for name in watched}


@pytest.mark.parametrize("finding", ["weak-compressor", "stroke-valve-stuck-low", "stroke-valve-stuck-high"])
def test_nothing_is_condemned_before_the_charge_was_weighed(finding: str) -> None:
    told = main_flow().findings[finding]
    words = " ".join((*told.confirm, *told.repair)).lower()
    assert "weigh" in words
    assert "label" in words


def test_every_finding_says_all_a_reader_needs() -> None:
    for finding in main_flow().findings.values():
        assert finding.title, finding.id
        assert finding.means, finding.id
        assert finding.note, finding.id
        assert finding.confirm, finding.id
        assert finding.repair, finding.id
        assert finding.verify, finding.id
