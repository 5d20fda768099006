"""Every fact of every shipped example can be offered: typed as it is offered, it means what the file says."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.flow.model import Flow
from engine.job.draft.offer import as_typed
from engine.job.entry import Entry, read_entry
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.physics.quantity import units_of

EXAMPLES = sorted((Path(__file__).parents[4] / "flows" / "examples").rglob("*.yaml"))


@cache
def _loaded(name: str) -> Flow:
    return load_flow(find(name))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_what_is_offered_means_what_the_file_says(example: Path) -> None:
    file = read_replay(str(example))
    flow = _loaded(file.flow)
    given = read_facts(file, flow).entries
    assert given
    air = 101325.0
    for name, entry in given.items():
        reading = flow.readings[name.rpartition(".")[2]]
        for unit in units_of(reading.kind) if reading.kind else ("",):
            again = read_entry(reading, as_typed(entry), unit, air)
            assert again.value == (pytest.approx(entry.value) if reading.kind else entry.value), name


@pytest.mark.parametrize(
    ("text", "unit", "typed"),
    [
        ("41", "psi", "41 psi"),
        (" 2.8 bar ", "bar", "2.8 bar"),
        ("50 %", "percent", "50 %"),
        ("belt", "", "belt"),
    ],
)
def test_a_bare_number_is_offered_with_its_unit(text: str, unit: str, typed: str) -> None:
    assert as_typed(Entry(0.0, unit, text, None, "")) == typed
