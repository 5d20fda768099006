"""What the person chose last: units, theme, learner option. If it cannot be kept, nothing else is lost."""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from engine.flow.words.language import LANGUAGE
from tui import themes, units

FILE_NAME = "settings.json"


@dataclass(frozen=True, slots=True)
class Settings:
    """`theme` is empty until the person chooses one: then the terminal decides. `language` is what flows are
    said in where there are words in it; empty: as each was written."""

    units: str = units.NAMES[0]
    theme: str = ""
    learner: bool = False
    language: str = ""


def load(folder: Path) -> Settings:
    """The settings kept in `folder`; what is missing or unreadable there is as if never chosen."""
    try:
        kept = json.loads((folder / FILE_NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return Settings()
    if not isinstance(kept, dict):
        return Settings()
    names = {each.name for each in fields(Settings)}
    known = {name: value for name, value in kept.items() if name in names and _fits(name, value)}
    return Settings(**known)


def save(folder: Path, settings: Settings) -> None:
    """Keep the settings in `folder`, the old file whole until the new one is."""
    unfinished = folder / f".{FILE_NAME}.tmp"
    with suppress(OSError):
        unfinished.write_text(json.dumps(asdict(settings)), encoding="utf-8")
        unfinished.replace(folder / FILE_NAME)


def _fits(name: str, value: object) -> bool:
    if name == "learner":
        return isinstance(value, bool)
    if name == "language":
        return isinstance(value, str) and (not value or LANGUAGE.fullmatch(value) is not None)
    return value in (units.NAMES if name == "units" else themes.NAMES)
