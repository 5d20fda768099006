"""Loading a flow: read, checked for shape, built, and followed along every path, all problems at once."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from engine.flow.bundle import Bundle
from engine.flow.library import Source
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem
from engine.flow.whole import Loaded, load_whole, shelves_kept, shelves_of

__all__ = [
    "FlowErrors",
    "Loaded",
    "Problem",
    "examine",
    "lint_problems",
    "load_bundle",
    "load_flow",
    "load_kept",
    "load_path",
]


def load_path(path: str | Path, language: str = "") -> Flow:
    """The flow in a file, its texts in `language` as far as there are words in it beside the file.

    Raises FlowErrors with every problem, sorted by place.
    """
    return examine(path, language).flow


def load_flow(source: Source, language: str = "") -> Flow:
    """The flow behind a Source. Raises FlowErrors."""
    return load_path(source.path, language)


def load_kept(source: Source, language: str = "") -> tuple[Flow, Bundle]:
    """The flow behind a Source with the very files it was made of, to be kept with a job.

    Raises FlowErrors.
    """
    loaded = examine(source.path, language)
    return loaded.flow, loaded.bundle


def load_bundle(files: Mapping[str, bytes], main: str, language: str = "") -> Flow:
    """The flow in files kept with a job. Raises FlowErrors."""
    return load_whole(main, shelves_kept(files), language).flow


def lint_problems(path: str | Path) -> list[Problem]:
    """Every error of a flow file; empty for a good one. Never raises for bad input."""
    try:
        load_path(path)
    except FlowErrors as errors:
        return errors.listed()
    return []


def examine(path: str | Path, language: str = "") -> Loaded:
    """The flow in a file with all that it was made of. Raises FlowErrors."""
    file = Path(path)
    return load_whole(file.name, shelves_of(file), language)
