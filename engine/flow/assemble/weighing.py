"""Signs, findings, and the odds that a finding told first puts on others, from their entries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.references import check_name, check_ranked, those_there
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.model import Finding, Sign
from engine.flow.names import NameTable
from engine.flow.scalars import AGAINST, ODDS, positive_number
from engine.flow.schema import FindingPart, Head, SignPart
from engine.flow.suggest import did_you_mean, listed, shown

Column = Literal["weighs", "beside"]
COLUMNS: tuple[Column, ...] = ("weighs", "beside")
"""The odds of a sign: for a finding told first, and for a second one beside it."""


@dataclass(frozen=True, slots=True)
class Written:
    """What a sign's column says of one finding, as written."""

    column: Column
    finding: str
    given: str | list[str]


def sign(entry: Entry[SignPart], sections: Sections, table: NameTable) -> Sign:
    """One sign."""
    part = entry.part
    weighs, beside = (
        {one.finding: _pair(entry, one) for one in weighed(entry, sections, key)} for key in COLUMNS
    )
    when = condition(entry, table, part.when or "", "when")
    return Sign(entry.name, when, part.says, weighs, part.source, reasoned=part.reasoned, beside=beside)


def weighed(entry: Entry[SignPart], sections: Sections, column: Column) -> Iterator[Written]:
    """The findings of this flow that a sign has odds for in a column."""
    given: dict[str, str | list[str]] = getattr(entry.part, column)
    if column == "weighs" and not given:
        entry.wrong(f"sign '{entry.name}' weighs nothing", "add findings with their odds", "weighs", key=True)
    there = set(those_there(entry, sections, list(given)))
    for name, written in given.items():
        if name in there:
            check_ranked(entry, sections, name, column, name, key=True)
            yield Written(column, name, written)


def _pair(entry: Entry[SignPart], one: Written) -> tuple[float, float]:
    given, at = one.given, (one.column, one.finding)
    if isinstance(given, str):
        return odds(entry, given, *at), 1.0
    if len(given) != 2:
        hint = "write [odds if true, odds if false]"
        entry.wrong(f"{len(given)} odds for '{one.finding}'", hint, *at)
        return 1.0, 1.0
    return odds(entry, given[0], *at, 0), odds(entry, given[1], *at, 1)


def odds(entry: Entry[Any], text: str, *below: str | int) -> float:
    """A number, or a word, or `against` and one of both."""
    against = text.startswith(AGAINST)
    word = text.removeprefix(AGAINST).strip()
    number = ODDS.get(word) or positive_number(word)
    if number is None or not 1e-4 <= number <= 1e4:
        hint = (
            did_you_mean(word, ODDS)
            if word.isalpha()
            else f"write a number from 0.0001 to 10000, or {listed(ODDS)}"
        )
        entry.wrong(f"{shown(text)} is no odds", hint, *below)
        return 1.0
    return 1 / number if against else number


def beside(head: Entry[Head], sections: Sections) -> dict[str, dict[str, float]]:
    """The odds that a finding told first puts on each other one as a second."""
    made: dict[str, dict[str, float]] = {}
    if head.part.beside and not any(one.part.beside for one in sections.entries["signs"].values()):
        hint = "give signs 'beside' too, or delete it"
        head.wrong("no sign has odds 'beside', so these are never used", hint, "beside", key=True)
    for first, others in head.part.beside.items():
        check_ranked(head, sections, first, "beside", first, key=True)
        for second in others:
            check_ranked(head, sections, second, "beside", first, second, key=True)
            if second == first:
                what = f"'{first}' cannot be told beside itself"
                head.wrong(what, "name another finding", "beside", first, second, key=True)
        made[first] = {second: odds(head, text, "beside", first, second) for second, text in others.items()}
    return made


def finding(entry: Entry[FindingPart], sections: Sections, table: NameTable) -> Finding:
    """One finding."""
    part = entry.part
    rivals = those_there(entry, sections, list(part.rivals))
    for rival in rivals:
        if rival == entry.name:
            entry.wrong(f"'{rival}' is a rival of itself", "name another finding", "rivals", rival, key=True)
        check_name(entry, sections, "findings", rival, "rivals", rival, key=True)
    _check_same(entry, sections)
    told_when = condition(entry, table, part.told_when, "told_when") if part.told_when else None
    return Finding(
        entry.name,
        part.title,
        part.means,
        prior=part.prior,
        rivals={rival: part.rivals[rival] for rival in rivals},
        confirm=tuple(part.confirm),
        repair=tuple(part.repair),
        verify=tuple(part.verify),
        note=part.note,
        same_as=part.same_as,
        told_when=told_when,
    )


def _check_same(entry: Entry[FindingPart], sections: Sections) -> None:
    part = entry.part
    if (part.same_as is None) is not (part.told_when is None):
        present, absent = ("same_as", "told_when") if part.same_as else ("told_when", "same_as")
        entry.wrong(f"'{present}' needs '{absent}'", f"add '{absent}:'", present, key=True)
    if part.same_as == entry.name:
        entry.wrong(f"'{entry.name}' is the same as itself", "name another finding", "same_as")
    elif part.same_as is not None:
        check_ranked(entry, sections, part.same_as, "same_as")


def rankable(sections: Sections) -> tuple[str, ...]:
    """What `conclude: all` means: every finding that some sign weighs, in the order they are written."""
    weighed = {name for entry in sections.entries["signs"].values() for name in entry.part.weighs}
    return tuple(
        name
        for name, entry in sections.entries["findings"].items()
        if name in weighed and not entry.part.same_as
    )
