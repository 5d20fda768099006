"""Handing over to the main flow at once changes nothing: same path, same cautions, same finding."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.load import load_path
from engine.flow.model import Flow
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.job.replay.result import path
from engine.job.replay.walker import replay
from tests.flows.walking import EXAMPLES, FLOWS, main_flow

FRONT = """\
format: 1
flow: front
revision: 1
title: What brings the car here?
about: Asks one thing and hands over.
start: first
use: [readings.yaml]
steps:
  first: {title: F, do: Ask., ask: [complaint], next: over}
  over: {title: O, hand_over: stroke_by_load, carry: all}
"""

BEFORE = "stroke_by_load/"


@pytest.fixture(scope="module")
def front(tmp_path_factory: pytest.TempPathFactory) -> Flow:
    folder = tmp_path_factory.mktemp("front")
    (folder / "front.yaml").write_text(FRONT)
    (folder / "readings.yaml").write_bytes((FLOWS / "parts" / "readings.yaml").read_bytes())
    return load_path(folder / "front.yaml")


@pytest.mark.parametrize("example", EXAMPLES, ids=[example.stem for example in EXAMPLES])
def test_the_main_flow_goes_on_as_if_it_had_begun(front: Flow, example: Path) -> None:
    file = read_replay(str(example))
    direct = replay(main_flow(), read_facts(file, main_flow()))
    handed = replay(front, read_facts(file, front))
    assert path(handed) == ["first", "over", *(BEFORE + step for step in path(direct))]
    assert [(one.step.removeprefix(BEFORE), one.ids) for one in handed.cautions] == [
        (one.step, one.ids) for one in direct.cautions
    ]
    assert handed.facts == direct.facts
    assert handed.conclusion is not None
    assert direct.conclusion is not None
    assert handed.conclusion.finding == direct.conclusion.finding
    assert [one.finding for one in handed.conclusion.ranked] == [
        one.finding for one in direct.conclusion.ranked
    ]
    assert [one.probability for one in handed.conclusion.ranked] == pytest.approx(
        [one.probability for one in direct.conclusion.ranked]
    )
