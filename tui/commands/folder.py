"""The person's data folder, asked for only where a name needs it."""

from __future__ import annotations

from pathlib import Path

from engine.flow.library import OWN


def data_folder(flow: str) -> Path | None:
    """The folder that `own:NAME` flows are in; None for any other flow, which needs none."""
    if not flow.startswith(OWN):
        return None
    from engine.job.store.place import default_folder

    return default_folder()
