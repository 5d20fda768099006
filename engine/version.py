"""The program's version, as its installed package says."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version


def program_version() -> str:
    """Such as `0.1.0`; `not installed` when run from a folder of sources that was never installed."""
    try:
        return version("loadstep")
    except PackageNotFoundError:
        return "not installed"
