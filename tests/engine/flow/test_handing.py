"""Flows that hand over: found, loaded together, and refused where a job would go round or mean two things."""

# ruff: noqa: E501 (one case a line)

from __future__ import annotations

import os
from pathlib import Path

import pytest

from engine.flow.library import Source
from engine.flow.load import lint_problems, load_bundle, load_kept, load_path

SHARED = """\
readings:
  hot: {label: Hot, choices: {yes: Y, no: N}}
  low_side: {label: Low, quantity: pressure}
findings:
  fine: {title: F, means: M}
  inconclusive: {title: I, means: M, prior: 0}
signs:
  one: {when: hot is yes, says: it is hot, weighs: {fine: 2}}
"""

FIRST = """\
format: 1
flow: first
revision: 1
title: First
about: A
start: ask
use: [shared.yaml]
sets:
  rest: {label: R, load: rest, fixed: [Engine off.]}
steps:
  ask: {title: A, do: Ask., ask: [hot], set: rest, record: [low_side], next: over}
  over: {title: O, hand_over: second, carry: all}
"""

SECOND = """\
format: 1
flow: second
revision: 1
title: Second
about: A
start: ask
use: [shared.yaml]
sets:
  rest: {label: R, load: rest, fixed: [Engine off.]}
steps:
  ask: {title: A, do: Ask., ask: [hot], set: rest, record: [low_side], next: done}
  done: {title: D, conclude: all}
"""


def write(folder: Path, **files: str) -> Path:
    for name, text in {"shared": SHARED, "first": FIRST, "second": SECOND, **files}.items():
        (folder / f"{name}.yaml").write_text(text)
    return folder / "first.yaml"


def told(path: Path) -> list[str]:
    return [f"{Path(one.file).name}:{one.line}: {one.what}, {one.hint}" for one in lint_problems(path)]


def test_what_agrees_is_carried(tmp_path: Path) -> None:
    flow = load_path(write(tmp_path))
    assert flow.steps["over"].carry == ("hot", "low_side", "rest")
    assert list(flow.hand_overs["second"].steps) == ["second/ask", "second/done"]
    assert flow.hand_overs["second"].start == "second/ask"


def test_a_set_in_other_conditions_is_taken_anew(tmp_path: Path) -> None:
    other = SECOND.replace("Engine off.", "Engine off, bonnet open.")
    assert load_path(write(tmp_path, second=other)).steps["over"].carry == ("hot", "low_side")
    named = FIRST.replace("carry: all", "carry: [hot, rest]")
    assert told(write(tmp_path, first=named, second=other)) == [
        "first.yaml:12: set 'rest' is taken in other conditions in flow 'second', "
        "let 'load', 'speed' and 'fixed' agree, or leave it out to take it anew"
    ]


def test_a_name_may_not_mean_two_things_in_one_job(tmp_path: Path) -> None:
    own = "use: [other.yaml]"
    other = SHARED.replace("{yes: Y, no: N}", "{yes: Y, no: N, nearly: L}")
    path = write(tmp_path, second=SECOND.replace("use: [shared.yaml]", own), other=other)
    assert told(path) == [
        "first.yaml:12: 'hot' means something else in flow 'second', "
        "take such readings from one part, or rename one"
    ]


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (("hand_over: second", "hand_over: secnd"), "there is no flow 'secnd' beside this one or among the shipped ones, did you mean 'second'?"),
        (("carry: all", "carry: [hott]"), "there is no reading or set 'hott' in flow 'first', did you mean 'hot'?"),
        (("hand_over: second, carry: all", "hand_over: second, next: ask"), "'next' in a step that hands over, the other flow goes on; put it into a step before, or delete it"),
        (("hand_over: second, carry: all", "carry: all, end: true"), "'carry' needs 'hand_over', add 'hand_over: FLOW', or delete it"),
        (("hand_over: second", "hand_over: first"), "hand-overs go in a ring: first > first, let one of them end the job"),
    ],
)  # fmt: skip
def test_mistakes_are_told_where_they_stand(tmp_path: Path, change: tuple[str, str], expected: str) -> None:
    assert f"first.yaml:12: {expected}" in told(write(tmp_path, first=FIRST.replace(*change)))


def test_a_ring_of_several_flows_is_refused_where_it_closes(tmp_path: Path) -> None:
    back = SECOND.replace("done: {title: D, conclude: all}", "done: {title: D, hand_over: first}")
    assert told(write(tmp_path, second=back)) == [
        "second.yaml:12: hand-overs go in a ring: first > second > first, let one of them end the job"
    ]


def test_two_ways_to_one_flow_are_no_ring(tmp_path: Path) -> None:
    third = SECOND.replace("flow: second", "flow: third").replace(
        "done: {title: D, conclude: all}", "done: {title: D, hand_over: second}"
    )
    first = FIRST.replace(
        "next: over}", "next: [{when: hot is yes, go: on}, {unknown: on}, {otherwise: over}]}"
    )
    flow = load_path(write(tmp_path, first=first + "  on: {title: N, hand_over: third}\n", third=third))
    assert set(flow.hand_overs) == {"second", "third"}
    assert set(flow.hand_overs["third"].hand_overs) == {"second"}


def test_nobody_hands_over_after_a_conclusion(tmp_path: Path) -> None:
    first = FIRST.replace("next: over}", "next: judge}") + "  judge: {title: J, conclude: all, next: over}\n"
    assert told(write(tmp_path, first=first)) == [
        "first.yaml:12: step 'over' hands over after 'judge' has concluded, hand over before the conclusion"
    ]


def test_problems_of_the_other_flow_are_told_in_its_file(tmp_path: Path) -> None:
    assert told(write(tmp_path, second=SECOND.replace("ask: [hot]", "ask: [hott]")))[0].startswith(
        "second.yaml:11: unknown reading 'hott'"
    )


def test_all_files_are_kept_and_load_again(tmp_path: Path) -> None:
    flow, bundle = load_kept(Source("first", write(tmp_path)))
    assert set(bundle.files) == {"first.yaml", "second.yaml", "shared.yaml"}
    again = load_bundle(bundle.files, bundle.main)
    assert again.hash == flow.hash == bundle.hash
    assert again.hand_overs.keys() == {"second"}
    (tmp_path / "second.yaml").write_text(SECOND + "# new\n")
    assert load_path(tmp_path / "first.yaml").hash != flow.hash


def test_a_flow_from_elsewhere_may_hand_over_to_a_shipped_one(tmp_path: Path) -> None:
    first = (
        FIRST.replace("hand_over: second, carry: all", "hand_over: stroke_by_load")
        .replace("set: rest, record: [low_side], ", "")
        .replace("sets:\n  rest: {label: R, load: rest, fixed: [Engine off.]}\n", "")
    )
    shared = SHARED.replace("  low_side: {label: Low, quantity: pressure}\n", "")
    path = write(tmp_path, first=first, shared=shared)
    flow, bundle = load_kept(Source("first", path))
    assert flow.hand_overs["stroke_by_load"].start == "stroke_by_load/complaint"
    assert "@shipped/stroke_by_load.yaml" in bundle.files
    assert "@shipped/parts/readings.yaml" in bundle.files
    assert load_bundle(bundle.files, bundle.main).hand_overs.keys() == {"stroke_by_load"}


def test_a_flow_beside_never_silently_stands_for_a_shipped_one(tmp_path: Path) -> None:
    mine = SECOND.replace("flow: second", "flow: stroke_by_load")
    path = write(
        tmp_path, first=FIRST.replace("hand_over: second", "hand_over: stroke_by_load"), stroke_by_load=mine
    )
    assert told(path) == [
        "first.yaml:12: flow 'stroke_by_load' is beside this one and among the shipped ones, give yours another name"
    ]


def test_a_hand_over_names_a_flow_not_a_path(tmp_path: Path) -> None:
    assert (
        "first.yaml:12: 'hand_over': '../second' is no name in step 'over', "
        in told(write(tmp_path, first=FIRST.replace("hand_over: second", "hand_over: ../second")))[0]
    )


@pytest.mark.skipif(os.name == "nt", reason="making links needs rights there")
def test_a_flow_that_a_link_leads_out_to_is_not_handed_over_to(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "second.yaml").write_text(SECOND)
    (tmp_path / "here").mkdir()
    path = write(tmp_path / "here")
    (tmp_path / "here" / "second.yaml").unlink()
    (tmp_path / "here" / "second.yaml").symlink_to(tmp_path / "elsewhere" / "second.yaml")
    assert told(path) == [
        "second.yaml:None: 'second.yaml' leads out of the flow's folder, keep parts beside the flow"
    ]
