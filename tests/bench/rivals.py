"""Two rivals for a flow: the floor is the trade's static pattern chart, the ceiling a trained classifier.

The chart sees the two gauges at baseline and the day's temperature. The classifier sees every reading that
any step of the flow asks for, and all that is computed from them; nothing stops it on the way.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.flow.computed.names import COMPUTED
from engine.flow.model import Flow, Next, Step, Value
from engine.job.facts import Facts
from engine.job.second import HEALTHY
from engine.vehicle.trial.job import Result

CHART_AIR_C = (25.0, 30.0, 35.0, 40.0)
CHART_LOW_KPA = ((171.0, 209.0), (196.0, 240.0), (229.0, 280.0), (292.0, 357.0))
CHART_HIGH_KPA = ((1204.0, 1471.0), (1300.0, 1590.0), (1500.0, 1820.0), (1870.0, 2285.0))
"""Running pressures (gauge) against ambient: generic service manual, R-134a, model year 2010
(references.md 4a). Used for R-1234yf as well, for which no chart was found; a shop does the same."""

PATTERNS = {
    ("low", "low"): "undercharge",
    ("low", "normal"): "expansion-valve-restricted",
    ("low", "high"): "liquid-restriction",
    ("normal", "low"): "undercharge",
    ("normal", "normal"): HEALTHY,
    ("normal", "high"): "condenser-airflow",
    ("high", "low"): "weak-compressor",
    ("high", "normal"): "expansion-valve-stuck-open",
    ("high", "high"): "overcharge",
}
"""Low and high side against the chart (common practice, no published source)."""


def by_chart(facts: Mapping[str, Value]) -> str:
    """What the static chart calls a vehicle."""
    low, high, air = (
        facts.get(f"{name}") for name in ("baseline.low_side", "baseline.high_side", "ambient_temperature")
    )
    if not (isinstance(low, float) and isinstance(high, float) and isinstance(air, float)):
        return "inconclusive"
    air_c = air - 273.15
    return PATTERNS[_word(low, CHART_LOW_KPA, air_c), _word(high, CHART_HIGH_KPA, air_c)]


def _word(pa: float, rows: Sequence[tuple[float, float]], air_c: float) -> str:
    low, high = (float(np.interp(air_c, CHART_AIR_C, [row[end] for row in rows])) * 1e3 for end in (0, 1))
    return "low" if pa < low else "high" if pa > high else "normal"


def asks_all(flow: Flow) -> Flow:
    """The flow as one chain of all steps that read something, whatever was found: no rule, no stop."""
    readings = {name: replace(reading, ask_if=None) for name, reading in flow.readings.items()}
    chain = [step for step in flow.steps.values() if step.ask or step.record]
    steps: dict[str, Step] = {}
    begun: set[str | None] = set()
    for step, after in zip(chain, [*chain[1:], None], strict=True):
        again = step.set in begun  # a set begun twice would lose what was read first
        begun.add(step.set)
        steps[step.id] = replace(
            step,
            settle=None if again else step.settle,
            for_=(),
            skip_to=None,
            at_most=None,
            then=None,
            next=Next((), None, after.id if after else "all-read"),
            conclude=(),
            proved=None,
            end=False,
        )
    steps["all-read"] = Step("all-read", "All read", conclude=tuple(flow.findings))
    return replace(flow, start=chain[0].id, steps=steps, readings=readings, watch=())


@dataclass(frozen=True, slots=True)
class Columns:
    """How facts become numbers: quantities and computed values as they are, a column for every choice."""

    flow: Flow
    numbers: tuple[str, ...]
    words: tuple[tuple[str, str], ...]

    def row(self, facts: Mapping[str, Value]) -> list[float]:
        known = Facts(facts, self.flow.sets)
        return [
            *(_number(known.get(name)) for name in self.numbers),
            *(_has(known.get(name), word) for name, word in self.words),
        ]


def columns(flow: Flow, seen: Iterable[Result]) -> Columns:
    """The columns that occur among these vehicles."""
    numbers: dict[str, None] = {}
    words: dict[tuple[str, str], None] = {}
    for result in seen:
        known = Facts(result.facts, flow.sets)
        for name in (*result.facts, *_computed(flow)):
            value = known.get(name)
            if isinstance(value, float):
                numbers[name] = None
            elif value is not None:
                words.update(
                    dict.fromkeys((name, word) for word in ([value] if isinstance(value, str) else value))
                )
    return Columns(flow, tuple(sorted(numbers)), tuple(sorted(words)))


def _computed(flow: Flow) -> list[str]:
    names = [entry.name for entry in COMPUTED.values() if entry.scope == "job"]
    of_sets = [entry.name for entry in COMPUTED.values() if entry.scope == "set"]
    return [*names, *(f"{set_name}.{name}" for set_name in flow.sets for name in of_sets)]


def _number(value: Value | None) -> float:
    return value if isinstance(value, float) else float("nan")


def _has(value: Value | None, word: str) -> float:
    if value is None:
        return float("nan")
    return float(word in value if isinstance(value, frozenset) else word == value)


class Classifier:
    """The better of two tree ensembles, by a part of the training vehicles that neither was fitted to."""

    def __init__(self, flow: Flow, training: Sequence[Result]) -> None:
        from sklearn.ensemble import ExtraTreesClassifier, HistGradientBoostingClassifier
        from sklearn.impute import SimpleImputer
        from sklearn.pipeline import make_pipeline

        self._columns = columns(flow, training)
        given, truth = self._table(training), np.array([_truth(one) for one in training])
        rivals: list[Any] = [
            make_pipeline(
                SimpleImputer(strategy="constant", fill_value=-1e7, keep_empty_features=True),
                ExtraTreesClassifier(600, random_state=1, n_jobs=-1),
            ),
            HistGradientBoostingClassifier(
                max_iter=80, learning_rate=0.1, max_leaf_nodes=12, early_stopping=False, random_state=1
            ),
        ]
        # by chance: every other vehicle is healthy, so that each fourth would be all of one kind
        kept = np.random.default_rng(1).random(len(truth)) < 0.25
        rights = [
            float((rival.fit(given[~kept], truth[~kept]).predict(given[kept]) == truth[kept]).mean())
            for rival in rivals
        ]
        self._best = rivals[int(np.argmax(rights))].fit(given, truth)
        self.name = type(self._best[-1] if hasattr(self._best, "steps") else self._best).__name__

    def calls(self, vehicles: Sequence[Result]) -> list[str]:
        """What it calls each vehicle."""
        return [str(name) for name in self._best.predict(self._table(vehicles))]

    def _table(self, vehicles: Sequence[Result]) -> NDArray[np.float64]:
        return np.array([self._columns.row(one.facts) for one in vehicles])


def _truth(result: Result) -> str:
    return result.faults[0].finding if result.faults else HEALTHY
