"""A trial as one HTML page that holds everything it needs: charts and confusion matrix as inline SVG."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from engine.job.page import page_templates
from engine.job.second import HEALTHY
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.report_text import percent
from engine.vehicle.trial.score import Score
from engine.vehicle.trial.tally import FleetTally
from engine.vehicle.trial.worst import faults_in_words, filters
from engine.version import program_version

if TYPE_CHECKING:
    from jinja2 import Template

OUTCOME_WORDS = {
    Outcome.CORRECT: "correct",
    Outcome.MISDIAGNOSED: "misdiagnosed",
    Outcome.MISSED: "missed",
    Outcome.FALSE_ALARM: "false alarm",
    Outcome.NO_ANSWER: "no answer",
}


def to_html(plan: Plan, tallies: Sequence[FleetTally]) -> str:
    """The page, without scripts or anything fetched; every text in it is escaped."""
    return _template().render(
        plan=plan,
        filters=" ".join(filters(plan)),
        version=program_version(),
        words={str(outcome): words for outcome, words in OUTCOME_WORDS.items()},
        fleets=[(tally, matrix(plan, tally), _bars(tally)) for tally in tallies],
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of the matrix: how many, and their share 0..1 of the truth's row."""

    told: int
    vehicles: int
    share: float


@dataclass(frozen=True, slots=True)
class Matrix:
    """Confusion: rows are the truth, columns what was told, in the same order; cells that are 0 left out."""

    truths: tuple[str, ...]
    names: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def matrix(plan: Plan, tally: FleetTally) -> Matrix:
    order = [HEALTHY, *plan.drawer.faults()]
    seen = {name for pair in tally.confusion for name in pair}
    names = [*(name for name in order if name in seen), *sorted(seen - set(order))]
    truths = [name for name in names if any(truth == name for truth, _ in tally.confusion)]
    return Matrix(tuple(truths), tuple(names), tuple(_cells(tally, truth, names) for truth in truths))


def _cells(tally: FleetTally, truth: str, names: Sequence[str]) -> tuple[Cell, ...]:
    counts = [tally.confusion[truth, name] for name in names]
    return tuple(Cell(at, count, count / sum(counts)) for at, count in enumerate(counts) if count)


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a stacked bar, in shares of its length."""

    outcome: str
    start: float
    share: float
    vehicles: int


@dataclass(frozen=True, slots=True)
class Bar:
    name: str
    score: Score
    parts: tuple[Part, ...]


def _bars(tally: FleetTally) -> list[Bar]:
    """One bar a group: all, by severity, by fault."""
    bars = [_bar("all", tally.overall)]
    for one in tally.bins:
        bars.append(_bar("there or not" if one.low is None else f"{one.low:.1f}..{one.high:.1f}", one.score))
    return [*bars, *(_bar(fault.finding, fault.score) for fault in tally.faults)]


def _bar(name: str, score: Score) -> Bar:
    parts, start = [], 0.0
    for outcome in Outcome:
        share = score.share(outcome) or 0.0
        if share:
            parts.append(Part(str(outcome), start, share, score.outcomes[outcome]))
            start += share
    return Bar(name, score, tuple(parts))


@cache
def _template() -> Template:
    environment = page_templates("engine.vehicle.trial")
    environment.filters["percent"] = percent
    environment.filters["truth"] = faults_in_words
    return environment.get_template("trial.html.j2")
