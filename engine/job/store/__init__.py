"""The store: jobs, their events and the flow files they walked, in one SQLite file. `Store` is the door.

Nothing here imports pydantic, yaml, engine.flow or (before it is needed) platformdirs: the start screen opens
the store before anything else is drawn.
"""

from engine.job.store.errors import (
    StoreBusy,
    StoreConflict,
    StoreDamaged,
    StoreError,
    StoreFull,
    StoreReadOnly,
)
from engine.job.store.place import default_folder
from engine.job.store.records import Job, JobSummary, NewJob, StoredBundle
from engine.job.store.store import Store

__all__ = [
    "Job",
    "JobSummary",
    "NewJob",
    "Store",
    "StoreBusy",
    "StoreConflict",
    "StoreDamaged",
    "StoreError",
    "StoreFull",
    "StoreReadOnly",
    "StoredBundle",
    "default_folder",
]
