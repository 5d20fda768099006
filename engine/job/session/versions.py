"""The versions a job is walked and concluded with."""

from __future__ import annotations

from dataclasses import dataclass

from engine.physics.bands import BAND_VERSION
from engine.physics.refrigerant import TABLE_VERSION
from engine.version import program_version


@dataclass(frozen=True, slots=True)
class Versions:
    """Program, property tables and bands."""

    program: str
    tables: str
    bands: str

    def plain(self) -> dict[str, str]:
        """As JSON types."""
        return {"program": self.program, "tables": self.tables, "bands": self.bands}

    def __str__(self) -> str:
        return f"loadstep {self.program}, tables {self.tables}, bands {self.bands}"


def present() -> Versions:
    """The versions of this program."""
    return Versions(program_version(), TABLE_VERSION, BAND_VERSION)
