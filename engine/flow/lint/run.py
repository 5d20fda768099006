"""Linting a flow: its errors, or where there are none, what the rules warn of and nobody waived."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from engine.flow.lint.registry import RULES
from engine.flow.lint.rule import Found, Linting
from engine.flow.lint.waivers import Waivers
from engine.flow.load import Loaded, examine
from engine.flow.problem import MOST_SHOWN, FlowErrors, Problem
from engine.flow.words.problems import word_problems


def lint(path: str | Path, words: Sequence[str] = (), language: str | None = None) -> list[Problem]:
    """Every problem of a flow file: errors if there are any, else warnings by place, and those of its words.

    `words` are not wanted in its texts; of the files of words beside it only those in `language` count, if
    one is given. Never raises for bad input.
    """
    try:
        loaded = examine(path)
    except FlowErrors as errors:
        return errors.listed()
    of_words = word_problems(loaded.opened, language)
    mistakes = [one for one in of_words if one.rule is None]
    return [*mistakes, *_shown(loaded, words), *(one for one in of_words if one.rule is not None)]


def _shown(loaded: Loaded, words: Sequence[str]) -> list[Problem]:
    """As many warnings as a report shows, and how many are left."""
    warnings = in_order(loaded, warn(loaded, words))
    more = len(warnings) - MOST_SHOWN
    if more <= 0:
        return warnings
    rest = f"and {more} more warnings"
    return [*warnings[:MOST_SHOWN], Problem(loaded.opened.label, None, None, rest, "mend these first", "")]


def warn(loaded: Loaded, words: Sequence[str] = ()) -> Iterator[Problem]:
    """What the rules find in a flow without errors, rule by rule, and waivers that hit nothing."""
    linting = Linting(loaded.flow, loaded.sections, loaded.opened, tuple(words))
    waivers = Waivers(linting, [rule.name for rule in RULES])
    unfinished = set[str]()
    for rule in RULES:
        told = 0
        for found in rule.find(linting):
            if waivers.cover(rule.name, found):
                continue
            yield _warning(rule.name, found)
            told += 1
            if told >= MOST_SHOWN:  # as many as a report shows
                unfinished.add(rule.name)
                break
    yield from waivers.unused(unfinished)


def _warning(rule: str, found: Found) -> Problem:
    place = found.place
    return Problem(place.file, place.line, place.column, found.what, found.hint, rule)


def in_order(loaded: Loaded, warnings: Iterator[Problem]) -> list[Problem]:
    """By file, the flow's own first, then by place; the same one twice counts once."""
    files = [loaded.opened.label, *(part.document.file for part in loaded.opened.parts)]
    order = {file: number for number, file in enumerate(files)}
    return sorted(
        dict.fromkeys(warnings),
        key=lambda one: (order.get(one.file, len(order)), one.line or 0, one.column or 0),
    )
