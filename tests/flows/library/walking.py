"""The golden walks and examples of one flow of the library."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from engine.flow.load import load_path
from engine.flow.model import Flow
from tests.flows.walking import FLOWS

HERE = Path(__file__).parent
NAMES = sorted(path.stem for path in HERE.glob("*.yaml"))


@cache
def flow(name: str) -> Flow:
    return load_path(FLOWS / f"{name}.yaml")


def walks(name: str) -> Path:
    """The replay file with the walks of the flow."""
    return HERE / f"{name}.yaml"


def examples(name: str) -> list[Path]:
    return sorted((FLOWS / "examples" / name).glob("*.yaml"))
