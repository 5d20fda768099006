"""Problems of a flow file: where, what, and what to do about it. All are collected, none is fatal alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from engine.flow.suggest import Hint

MOST_SHOWN = 100
"""Problems reported at once; the rest are only counted."""

_MOST_KEPT = 2000  # a hostile file cannot make us hold more than this


@dataclass(frozen=True, slots=True)
class Place:
    """A spot in a file, lines and columns from 1; None where there is no such spot (a missing file)."""

    file: str
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        spot = f":{self.line}:{self.column}" if self.line is not None else ""
        return f"{self.file}{spot}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake, in words for the person who wrote the flow.

    `rule` is the rule of lint that warns; None for an error, with which the flow cannot be used.
    """

    file: str
    line: int | None
    column: int | None
    what: str
    hint: str = ""
    rule: str | None = None

    @property
    def severity(self) -> str:
        """`error` or `warning`."""
        return "error" if self.rule is None else "warning"

    @property
    def place(self) -> Place:
        return Place(self.file, self.line, self.column)

    def __str__(self) -> str:
        hint = f", {self.hint}" if self.hint else ""
        return f"{self.place}: {self.what}{hint}" + (f" [{self.rule}]" if self.rule else "")


class FlowErrors(Exception):
    """A flow cannot be used. `problems` is sorted by place; `more` counts those left out."""

    def __init__(self, problems: Iterable[Problem], more: int = 0) -> None:
        self.problems = tuple(problems)
        self.more = more
        lines = [str(problem) for problem in self.problems]
        if more:
            lines.append(f"and {more} more")
        super().__init__("\n".join(lines))

    def listed(self) -> list[Problem]:
        """The problems, with a last one that counts those left out."""
        if not self.more:
            return list(self.problems)
        rest = Problem(
            self.problems[-1].file, None, None, f"and {self.more} more problems", "mend these first"
        )
        return [*self.problems, rest]


class Problems:
    """Collects problems while a flow is read. Files are ordered as they were first mentioned to it."""

    def __init__(self) -> None:
        self._kept: dict[tuple[Place, str], Hint] = {}
        self._dropped = 0
        self._files: list[str] = []

    def __len__(self) -> int:
        return len(self._kept) + self._dropped

    def add_file(self, file: str) -> None:
        """Fixes the order of files in the report."""
        if file not in self._files:
            self._files.append(file)

    def add(self, place: Place, what: str, hint: Hint = "") -> None:
        """Notes one problem; the same one twice counts once."""
        self.add_file(place.file)
        if len(self._kept) >= _MOST_KEPT:
            self._dropped += 1
        else:
            self._kept.setdefault((place, what.rstrip(".")), hint)

    def sorted(self, most: int | None = None) -> list[Problem]:
        """Those kept, by file, line and column; at most so many."""
        order = {file: number for number, file in enumerate(self._files)}
        places = sorted(self._kept, key=lambda k: (order[k[0].file], k[0].line or 0, k[0].column or 0))
        return [self._problem(place, what) for place, what in places[:most]]

    def errors(self) -> FlowErrors:
        """The exception that says them all."""
        return FlowErrors(self.sorted(MOST_SHOWN), max(0, len(self) - MOST_SHOWN))

    def _problem(self, place: Place, what: str) -> Problem:
        hint = self._kept[place, what]
        text = hint if isinstance(hint, str) else hint()
        return Problem(place.file, place.line, place.column, what, text.rstrip("."))
