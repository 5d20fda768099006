"""The person's data folder, asked for only where a name needs it."""

from __future__ import annotations

from pathlib import Path

from engine.flow.library import is_by_place


def data_folder(flow: str) -> Path | None:
    """The folder that says where `own:` and `shared:` flows are; None for any other, which needs none."""
    if not is_by_place(flow):
        return None
    from engine.job.store.place import default_folder

    return default_folder()
