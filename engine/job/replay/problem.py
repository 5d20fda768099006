"""What can be wrong with a replay file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

FILE = "file"  # missing, a folder, too large, not text
SYNTAX = "syntax"  # not YAML as it is accepted here
FORMAT = "format"  # YAML, but not laid out as a replay file
FLOW = "flow"  # the flow is unknown or has problems of its own
NAME = "name"  # no such reading or set
COMPUTED = "computed"  # a reading that is computed cannot be given
VALUE = "value"  # unreadable, of the wrong quantity, or impossible


@dataclass(frozen=True, slots=True)
class ReplayProblem:
    """One problem: its `kind` (above), `where` as `file:line:column`, what is wrong, and the remedy."""

    kind: str
    where: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        return f"{self.where}: {self.message}" + (f", {self.hint}" if self.hint else "")


class ReplayErrors(Exception):
    """A replay file that cannot be walked; `problems` holds all that was found, in the order of the file."""

    def __init__(self, problems: Sequence[ReplayProblem]) -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = tuple(problems)
