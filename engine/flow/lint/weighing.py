"""Findings that no walk ends in or that nothing speaks for, and signs that nothing can make true."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from engine.flow.check.weighed import never_told
from engine.flow.lint.conditions import never_true_signs, tree
from engine.flow.lint.may import MayAsked
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.lint.terms import Among, Case, Known, TooMany, Want, Within, cases
from engine.flow.model import INCONCLUSIVE, Sign


def _never_concluded(linting: Linting) -> Iterator[Found]:
    """Loading refuses those of the flow's own file; one of a part may serve others, unless it is weighed."""
    lost = set(never_told(linting.flow))
    signs = linting.flow.signs.values()
    weighed = {finding: sign.written_as for sign in signs for finding in sign.weighs}
    for finding in linting.flow.findings:
        if finding in lost and finding in weighed:
            sign = weighed[finding]
            place = linting.entry("signs", sign).place("weighs", finding, key=True)
            what = f"sign '{sign}' weighs '{finding}', which no step concludes"
            yield Found(place, what, "name it in a 'conclude', or weigh another", (finding, sign))


def _without_sign(linting: Linting) -> Iterator[Found]:
    """A candidate that no sign makes likelier."""
    flow = linting.flow
    raised = {
        finding
        for sign in flow.signs.values()
        for finding, (if_true, if_false) in sign.weighs.items()
        if max(if_true, if_false) > 1
    }
    named = dict.fromkeys(name for step in flow.steps.values() for name in step.conclude)
    for finding in named:
        if finding not in raised and finding != INCONCLUSIVE:
            place = linting.entry("findings", finding).place(key=True)
            what = f"no sign speaks for finding '{finding}'"
            hint = "add a sign that weighs it above 1, or prove it by a test of its own"
            yield Found(place, what, hint, (finding,))


def _dead_sign(linting: Linting) -> Iterator[Found]:
    yield from never_true_signs(linting)
    yield from _never_together(linting)


def _never_together(linting: Linting) -> Iterator[Found]:
    may = MayAsked(linting)
    written = {sign.written_as: sign for sign in linting.flow.signs.values()}  # one step of a graded sign
    for name, sign in written.items():
        pair = _apart(sign, may)
        if pair is not None:
            what = f"sign '{name}' can never be true: no walk asks both '{pair[0]}' and '{pair[1]}'"
            place = linting.entry("signs", name).place("reads" if sign.graded else "when")
            yield Found(place, what, "ask both on one way, or write two signs", (name, *pair))


def _apart(sign: Sign, may: MayAsked) -> tuple[str, str] | None:
    """Two names of which no walk knows both; None if the sign may come true without such a pair."""
    try:
        every = cases(tree(sign.when), Want.TRUE)
    except TooMany:
        return None
    first: tuple[str, str] | None = None
    for case in every:
        pair = next((two for two in combinations(_known(case), 2) if not may.be_together(*two)), None)
        if pair is None:
            return None
        first = first or pair
    return first


def _known(case: Case) -> list[str]:
    """Names that must be known."""
    found: dict[str, None] = {}
    for fact in case:
        if isinstance(fact, Within):
            found.update(dict.fromkeys(fact.names))
        elif isinstance(fact, Among) or (isinstance(fact, Known) and fact.known):
            found[fact.name] = None
    return list(found)


NEVER_CONCLUDED = Rule(
    "finding-never-concluded",
    "A finding that signs weigh and no step concludes takes evidence away and is never told.",
    "Name it in the 'conclude' of a step, or take it out of the signs.",
    _never_concluded,
)
WITHOUT_SIGN = Rule(
    "finding-without-sign",
    "A candidate that no sign speaks for can only win because the others lose.",
    "Add a sign that makes it likelier, or prove it by a direct test.",
    _without_sign,
)
DEAD_SIGN = Rule(
    "dead-sign",
    "A sign that nothing can make true never speaks, so the findings it weighs lose their evidence.",
    "Correct its condition, or ask what it needs on one and the same way.",
    _dead_sign,
)
