"""The rules of one step's `next` beside each other: gaps, overlaps, and rules that are never come to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from engine.flow.lint.conditions import impossible, tree
from engine.flow.lint.interval import Interval, common, covers, gaps, union
from engine.flow.lint.knowledge import FlowKnowledge
from engine.flow.lint.places import Spot, rules_of
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.lint.state import Knowledge, State, form_words, states
from engine.flow.lint.terms import Form, Known, TooMany, Want, Within, cases, numbers
from engine.flow.model import Next

_LOOKED_BACK = 30
"""Rules of one step that are held against each other; more are in no readable step."""

Ranges = tuple[Interval, ...]
Numbers = Mapping[float, tuple[float, str]]
"""Numbers in SI with number and unit as the author wrote them."""


@dataclass(frozen=True, slots=True)
class _Ranged:
    """A rule that leads on, and the values of one sum for which it may be true.

    `alone` says that nothing else has a say: it is true exactly for those values.
    """

    spot: Spot
    go: str
    form: Form
    ranges: Ranges
    alone: bool


def _gap(linting: Linting) -> Iterator[Found]:
    for leads, by_form in _ranged(linting):
        for form, rules in by_form.items():
            exact = [rule for rule in rules if rule.alone]
            if len(exact) < 2:
                continue
            told = _numbers(form, [rule.spot for rule in rules])
            for gap in gaps(union(i for rule in rules for i in rule.ranges)):
                later = next((rule for rule in exact if _touches(rule, gap)), exact[-1])
                what = f"gap {_between(gap, told)}: no rule of step '{later.spot.name}' takes"
                what += f" '{form_words(form)}' there"
                hint = f"move a limit, or write a rule for it; now it leads to '{leads.otherwise}'"
                yield Found(later.spot.place(), what, hint, (later.spot.name, *_names(form)))


def _overlap(linting: Linting) -> Iterator[Found]:
    for _, by_form in _ranged(linting):
        for form, rules in by_form.items():
            exact = [rule for rule in rules if rule.alone][:_LOOKED_BACK]
            for number, later in enumerate(exact):
                for earlier in exact[:number]:
                    yield from _of_both(form, earlier, later)


def _of_both(form: Form, earlier: _Ranged, later: _Ranged) -> Iterator[Found]:
    both = common(earlier.ranges, later.ranges)
    nested = covers(later.ranges, earlier.ranges) or covers(earlier.ranges, later.ranges)
    if not both or nested or earlier.go == later.go:
        return
    told = _numbers(form, [earlier.spot, later.spot])
    first, second = (1 + (rule.spot.rule or 0) for rule in (earlier, later))
    what = f"rules {first} and {second} of step '{later.spot.name}' overlap {_between(both[0], told)}"
    hint = f"move a limit; now rule {first} takes it"
    yield Found(later.spot.place(), what, hint, (later.spot.name, *_names(form)))


def _covered(linting: Linting) -> Iterator[Found]:
    knowledge = FlowKnowledge(linting.flow, linting.needs)
    for spots, leads in _lists(linting):
        for number, spot in enumerate(spots):
            before = _that_bear_on(spot, spots[:number], leads)
            if before and _is_covered(spot, before, knowledge):
                what = f"{spot.words} is never come to: the rules before it take every case"
                yield Found(spot.place(), what, "put it before them, or delete it", (spot.name,))


def _that_bear_on(spot: Spot, earlier: list[Spot], leads: Next) -> list[Spot]:
    """The nearest earlier rules that lead on and share a name: what these take, all of them take."""
    names = set(spot.condition.names)
    found: list[Spot] = []
    for other, rule in zip(
        reversed(earlier[-_LOOKED_BACK:]), reversed(leads.rules[: len(earlier)]), strict=False
    ):
        if rule.go is not None and names.intersection(other.condition.names):
            found.append(other)
    return found


def _is_covered(spot: Spot, before: Sequence[Spot], knowledge: Knowledge) -> bool:
    if impossible(tree(spot.condition), Want.TRUE, knowledge) is not None:
        return False  # it can never be true by itself, which is another rule's matter
    try:
        left = states([State()], cases(tree(spot.condition), Want.TRUE), knowledge)
        for earlier in before:
            left = states(left, cases(tree(earlier.condition), Want.NOT_TRUE), knowledge)
    except TooMany:
        return False
    return not left


def _lists(linting: Linting) -> Iterator[tuple[list[Spot], Next]]:
    for name, step in linting.flow.steps.items():
        if step.next is not None and len(step.next.rules) > 1:
            yield list(rules_of(linting, name)), step.next


@lru_cache(maxsize=1)  # gaps and overlaps are looked for one after the other
def _ranged(linting: Linting) -> tuple[tuple[Next, Mapping[Form, list[_Ranged]]], ...]:
    return tuple((leads, _by_form(spots, leads)) for spots, leads in _lists(linting))


def _by_form(spots: Sequence[Spot], leads: Next) -> Mapping[Form, list[_Ranged]]:
    found = defaultdict[Form, list[_Ranged]](list)
    for spot, rule in zip(spots, leads.rules, strict=True):
        if rule.go is None:
            continue
        try:
            true = cases(tree(spot.condition), Want.TRUE)
        except TooMany:
            return {}
        forms = {fact.form for case in true for fact in case if isinstance(fact, Within) and fact.form}
        for form in forms:
            spans = union(_span(case, form) for case in true)
            found[form].append(_Ranged(spot, rule.go, form, spans, all(_only(case, form) for case in true)))
    return found


def _span(case: tuple[object, ...], form: Form) -> Interval:
    span = Interval()
    for fact in case:
        if isinstance(fact, Within) and fact.form == form:
            span = span.meet(fact.interval)
    return span


def _only(case: tuple[object, ...], form: Form) -> bool:
    """The case hangs on this sum alone."""
    return all(
        (isinstance(fact, Within) and fact.form == form)
        or (isinstance(fact, Known) and fact.known and fact.name in _names(form))
        for fact in case
    )


def _touches(rule: _Ranged, gap: Interval) -> bool:
    return any(gap.high == one.low or gap.low == one.high for one in rule.ranges)


def _names(form: Form) -> tuple[str, ...]:
    return tuple(name for name, _ in form)


def _numbers(form: Form, spots: Sequence[Spot]) -> Numbers:
    """Both signs of each: a sum may have been turned round."""
    found: dict[float, tuple[float, str]] = {}
    for spot in spots:
        for one in numbers(tree(spot.condition)):
            found[one.si] = (one.number, one.unit)
            found.setdefault(-one.si, (-one.number, one.unit))
    return found


def _between(gap: Interval, told: Numbers) -> str:
    """`between 3 and 4 K`."""
    (low, unit), (high, other) = (told.get(end, (end, "")) for end in (gap.low, gap.high))
    if gap.low == gap.high:
        return f"at {low:g} {unit}".rstrip()
    first = f"{low:g}" if unit == other else f"{low:g} {unit}"
    return f"between {first} and {high:g} {other}".rstrip()


RANGE_GAP = Rule(
    "range-gap",
    "Values between two limits that no rule takes go wherever 'otherwise' leads, which is seldom meant.",
    "Move one of the limits, or give the values between a rule of their own.",
    _gap,
)
RANGE_OVERLAP = Rule(
    "range-overlap",
    "Where two ranges overlap, the first rule silently wins, and a reader cannot tell that it was meant.",
    "Move one of the limits so that each value has one rule.",
    _overlap,
)
RULE_COVERED = Rule(
    "rule-covered",
    "A rule that earlier rules always forestall is never taken, so its branch is dead.",
    "Put the narrower rule first, or delete it.",
    _covered,
)
