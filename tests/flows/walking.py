"""Golden walks for the tests: those of the main flow in `walks.yaml`, and its examples."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from engine.flow.load import load_path
from engine.flow.model import Flow
from engine.job.golden.checking import State, check
from engine.job.golden.difference import told
from engine.job.replay.file import read_replay
from engine.job.replay.layout import Fact
from engine.job.replay.run import replayed
from engine.job.walk import Walk

FLOWS = Path(__file__).parents[2] / "flows"
MAIN = FLOWS / "stroke_by_load.yaml"
WALKS = Path(__file__).with_name("walks.yaml")
EXAMPLES = sorted((FLOWS / "examples").glob("*.yaml"))


@cache
def main_flow() -> Flow:
    return load_path(MAIN)


@cache
def walks_of(file: Path) -> tuple[Walk, ...]:
    """The finished walks of a replay file: of its own facts, and of each of its `walks`."""
    own = read_replay(str(file))
    return tuple(replayed(each).walk for each in (own, *own.walks))


def differences(file: Path) -> list[str]:
    """What its walks come to that differs from what the file says they must."""
    wrong = (golden for golden in check(str(file)) if golden.state is not State.HOLDS)
    return [line for golden in wrong for line in told(golden)]


def sound_but(changes: Mapping[str, str]) -> Walk:
    """The finished walk of the sound vehicle of `walks.yaml`, with these facts, by full name, changed."""
    sound = read_replay(str(WALKS))
    facts = {fact.full_name: fact for fact in sound.facts}
    for name, text in changes.items():
        set_name, _, reading = name.rpartition(".")
        facts[name] = Fact(set_name or None, reading, text, sound.flow_place, sound.flow_place)
    return replayed(replace(sound, facts=tuple(facts.values()))).walk
