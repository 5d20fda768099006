"""Loading a flow: read, checked for shape, built, and followed along every path, all problems at once."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from engine.flow.assemble.flow import build
from engine.flow.assemble.sections import gather
from engine.flow.bundle import Bundle, FolderFiles, MemoryFiles, Opened, open_bundle
from engine.flow.library import Source
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors, Problem

__all__ = ["FlowErrors", "Problem", "lint_problems", "load_bundle", "load_flow", "load_path", "read_bundle"]


def load_path(path: str | Path) -> Flow:
    """The flow in a file. Raises FlowErrors with every problem, sorted by place."""
    return _load(_open(path))


def load_flow(source: Source) -> Flow:
    """The flow behind a Source. Raises FlowErrors."""
    return load_path(source.path)


def load_bundle(files: Mapping[str, bytes], main: str) -> Flow:
    """The flow in files kept with a job. Raises FlowErrors."""
    return _load(open_bundle(main, MemoryFiles(files)))


def read_bundle(source: Source) -> Bundle:
    """All files of a flow, to be kept with a job. Raises FlowErrors if one cannot be read."""
    opened = _open(source.path)
    if not opened.whole:
        raise opened.problems.errors()
    return opened.bundle


def lint_problems(path: str | Path) -> list[Problem]:
    """Every problem of a flow file; empty for a good one. Never raises for bad input."""
    try:
        load_path(path)
    except FlowErrors as errors:
        rest = f"and {errors.more} more problems"
        more = (
            [Problem(errors.problems[-1].file, None, None, rest, "mend these first")] if errors.more else []
        )
        return [*errors.problems, *more]
    return []


def _open(path: str | Path) -> Opened:
    path = Path(path)
    return open_bundle(path.name, FolderFiles(path.parent), str(path))


def _load(opened: Opened) -> Flow:
    sections = gather(opened)
    flow = build(sections, opened.bundle.main, opened.bundle.hash)
    if len(opened.problems):
        raise opened.problems.errors()
    return flow
