"""Each flow of the library: every rule is taken, every walk holds, every finding has one, all is safe."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.job.golden.checking import check
from engine.job.walk import Walk
from engine.job.weigh import base_of
from engine.vehicle.trial.concludable import concluded_here
from tests.flows.library.walking import NAMES, examples, flow, walks
from tests.flows.test_every_rule import ways_of, ways_taken
from tests.flows.test_safety_texts import FORBIDDEN, FORBIDS, INJURY, sentences, steps_before, texts
from tests.flows.walking import differences, walks_of

EXAMPLES = [(name, path) for name in NAMES for path in examples(name)]
GOLDENS = [file for name in NAMES for file in (walks(name), *examples(name))]


@pytest.fixture(params=NAMES)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.mark.parametrize("file", GOLDENS, ids=lambda file: f"{file.parent.name}/{file.stem}")
def test_golden_walks_hold(file: Path) -> None:
    assert differences(file) == []


@pytest.mark.parametrize(("name", "path"), EXAMPLES, ids=[path.stem for _, path in EXAMPLES])
def test_an_example_walks_its_own_flow(name: str, path: Path) -> None:
    assert {begun(walk).flow.name for walk in walks_of(path)} == {name}


def begun(walk: Walk) -> Walk:
    """The walk before any flow handed over to another."""
    return walk if walk.before is None else begun(walk.before)


def test_every_rule_is_taken(name: str) -> None:
    files = (walks(name), *examples(name))
    taken = {way for file in files for walk in walks_of(file) for way in ways_taken(walk)}
    assert sorted(set(ways_of(flow(name))) - taken) == []


def test_every_finding_of_its_own_has_an_example(name: str) -> None:
    """Not of the stops that parts make before anything runs, which the main flow's examples show."""
    one, shown = flow(name), {one.finding for path in examples(name) for one in check(str(path))}
    shown |= {base_of(one, finding) for finding in shown}  # told in another's place, it shows that too
    told_elsewhere = {finding.id for finding in one.findings.values() if finding.same_as in shown}
    assert sorted((concluded_here(one) | told_elsewhere) - shown - _STOPS) == []


_STOPS = {"high-voltage", "not-covered", "contaminated-refrigerant", "system-empty", "undercharge"}


def test_no_text_tells_to_vent_to_bridge_or_to_run_empty(name: str) -> None:
    bad = [
        (where, sentence)
        for where, text in texts(flow(name))
        for sentence in sentences(text)
        if FORBIDDEN.search(sentence) and not FORBIDS.search(sentence)
    ]
    assert bad == []


def test_notice_is_never_used_for_injury(name: str) -> None:
    assert [
        one.id for one in flow(name).cautions.values() if one.signal == "NOTICE" and INJURY.search(one.text)
    ] == []


def test_every_caution_names_its_source(name: str) -> None:
    assert [one.id for one in flow(name).cautions.values() if not one.source] == []


def test_gauges_are_connected_after_the_looks_only(name: str) -> None:
    if "gauges" in flow(name).steps:
        assert {"drive", "label", "protect", "identify"} <= steps_before(flow(name), "gauges")


def test_nothing_runs_before_it_was_made_safe(name: str) -> None:
    one = flow(name)
    running = [
        step.id for step in one.steps.values() if "exhaust" in step.exposure and step.id != "make-safe"
    ]
    late = [step for step in running if "make-safe" not in steps_before(one, step)]
    assert late == []
