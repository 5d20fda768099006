"""One open job: what the screen talks to. `Session` is the door."""

from engine.job.session.recorder import SessionChanged
from engine.job.session.session import Session

__all__ = ["Session", "SessionChanged"]
