"""Loading a flow: read, checked for shape, built, and followed along every path, all problems at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from engine.flow.assemble.flow import build
from engine.flow.assemble.gather import gather
from engine.flow.assemble.sections import Sections
from engine.flow.bundle import Bundle, MemoryFiles, Opened, open_bundle, open_path
from engine.flow.check.paths import check_paths
from engine.flow.library import Source
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem

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


@dataclass(frozen=True, slots=True)
class Loaded:
    """A flow without errors, its entries with their places, and its files as they were read."""

    flow: Flow
    sections: Sections
    opened: Opened


def load_path(path: str | Path) -> Flow:
    """The flow in a file. Raises FlowErrors with every problem, sorted by place."""
    return _load(open_path(Path(path)))


def load_flow(source: Source) -> Flow:
    """The flow behind a Source. Raises FlowErrors."""
    return load_path(source.path)


def load_kept(source: Source) -> tuple[Flow, Bundle]:
    """The flow behind a Source with the very files it was made of, to be kept with a job.

    Raises FlowErrors.
    """
    opened = open_path(source.path)
    return _load(opened), opened.bundle


def load_bundle(files: Mapping[str, bytes], main: str) -> Flow:
    """The flow in files kept with a job. Raises FlowErrors."""
    return _load(open_bundle(main, MemoryFiles(files)))


def lint_problems(path: str | Path) -> list[Problem]:
    """Every error of a flow file; empty for a good one. Never raises for bad input."""
    try:
        load_path(path)
    except FlowErrors as errors:
        return errors.listed()
    return []


def examine(path: str | Path) -> Loaded:
    """The flow in a file with all that it was made of. Raises FlowErrors."""
    return _examined(open_path(Path(path)))


def _load(opened: Opened) -> Flow:
    return _examined(opened).flow


def _examined(opened: Opened) -> Loaded:
    sections = gather(opened)
    flow = build(sections, opened.bundle.main, opened.bundle.hash)
    check_paths(flow, sections, opened.problems)
    if len(opened.problems):
        raise opened.problems.errors()
    return Loaded(flow, sections, opened)
