"""The walks and examples of one flow of the library."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml

from engine.flow.load import load_path
from engine.flow.model import Flow
from engine.job.replay.run import replay_file
from engine.job.walk import Walk
from tests.flows.walking import FLOWS, Golden, changed

HERE = Path(__file__).parent
NAMES = sorted(path.stem for path in HERE.glob("*.yaml"))


@cache
def flow(name: str) -> Flow:
    return load_path(FLOWS / f"{name}.yaml")


def examples(name: str) -> list[Path]:
    return sorted((FLOWS / "examples" / name).glob("*.yaml"))


def goldens(name: str) -> list[Golden]:
    laid_out = _laid_out(name)
    return [
        Golden(title, changed(laid_out["sound"], walk), walk["finding"])
        for title, walk in laid_out["walks"].items()
    ]


@cache
def _laid_out(name: str) -> dict[str, Any]:
    found: dict[str, Any] = yaml.load((HERE / f"{name}.yaml").read_text(), yaml.BaseLoader)
    return found


def walked(name: str, facts: dict[str, Any], folder: Path) -> Walk:
    """The finished walk of these facts through flow `name`, read through a real replay file."""
    file = folder / "walk.yaml"
    file.write_text(yaml.safe_dump({"format": "1", "flow": name, "facts": facts}))
    return replay_file(str(file)).walk
