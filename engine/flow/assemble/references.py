"""Names in entries that refer to other entries: readings, sets, cautions, findings and steps that must exist.

Where one does not, checks along the paths that hang on it would only repeat the mistake in other words; so
what is thrown into doubt is noted beside the problem.
"""

from __future__ import annotations

from typing import Any

from engine.flow.assemble.sections import FINDINGS, NAMES, WAYS, Entry, Sections
from engine.flow.model import RESUME
from engine.flow.names import NameTable, UnknownName
from engine.flow.positions import PathPart
from engine.flow.suggest import did_you_mean, shown

_DOUBTS = {"readings": NAMES, "sets": NAMES, "findings": FINDINGS}


def check_name(
    entry: Entry[Any], sections: Sections, section: str, name: str, *below: PathPart, key: bool = False
) -> None:
    """Notes a name that is not in `section`."""
    if sections.has(section, name) or not sections.whole:
        return
    what = f"unknown {section.removesuffix('s')} {shown(name)}"
    hint = sections.left_out_hint(section, name) or (lambda: did_you_mean(name, sections.names(section)))
    entry.wrong(what, hint, *below, key=key)
    if section in _DOUBTS:
        sections.doubts.add(_DOUBTS[section])


def check_names(
    entry: Entry[Any], sections: Sections, section: str, given: list[str], *below: PathPart
) -> None:
    """Notes each name of a list that is not in `section`, and each that is there twice."""
    for number, name in enumerate(given):
        check_name(entry, sections, section, name, *below, number)
    _check_twice(entry, section, given, *below)


def _check_twice(entry: Entry[Any], section: str, given: list[str], *below: PathPart) -> None:
    seen = set[str]()
    for number, name in enumerate(given):
        if name in seen:
            what = f"{section.removesuffix('s')} {shown(name)} is listed twice"
            entry.wrong(what, "delete one", *below, number)
        seen.add(name)


def check_full_name(entry: Entry[Any], table: NameTable, name: str, *below: PathPart) -> None:
    """Notes a name (`reading` or `set.reading`) that means nothing."""
    try:
        table.meaning(name)
    except UnknownName as unknown:
        if not unknown.broken:
            entry.wrong(unknown.message, unknown.hint, *below)


def check_ranked(
    entry: Entry[Any], sections: Sections, name: str, *below: PathPart, key: bool = False
) -> None:
    """Notes a name that cannot be weighed: no finding, told instead of another one, or of prior 0."""
    check_name(entry, sections, "findings", name, *below, key=key)
    found = sections.entries["findings"].get(name)
    if found is not None and found.part.same_as:
        hint = f"name '{found.part.same_as}', it is told in its place"
        entry.wrong(f"finding '{name}' is not weighed by itself", hint, *below, key=key)
    if found is not None and found.part.prior == 0:
        hint = "use 'proved:', or give it a prior"
        entry.wrong(f"finding '{name}' has prior 0 and can only be proved", hint, *below, key=key)


def those_there(entry: Entry[Any], sections: Sections, given: list[str]) -> list[str]:
    """Findings named in a part, without those that the flow does not have: the part serves others too.

    The flow's own entries keep all, so that a misspelt one is told.
    """
    if sections.is_own(entry):
        return given
    return [name for name in given if sections.has("findings", name)]


def check_all_ranked(entry: Entry[Any], sections: Sections, given: list[str], *below: PathPart) -> None:
    """Notes each name of a list that cannot be weighed, and each that is there twice."""
    for number, name in enumerate(given):
        check_ranked(entry, sections, name, *below, number)
    _check_twice(entry, "findings", given, *below)


def check_target(
    entry: Entry[Any], sections: Sections, target: str | None, *below: PathPart, resume: bool = False
) -> None:
    """Notes a target that is no step; `resume` allows going back to what a watch rule interrupted."""
    if target is None or (target == RESUME and resume):
        return
    inside = sections.inside(entry, target)
    bound, outside = sections.binds(entry, target), sections.outside(entry, target)
    if sections.has("steps", target) and inside is None and (bound or not outside):
        return
    sections.doubts.add(WAYS)
    if bound:
        return  # told where the flow binds it
    if target == RESUME:
        entry.wrong("'resume' cannot stand here", "it goes into 'next' only", *below)
    elif outside:
        hint = "lead to one of its exits, or declare one"
        entry.wrong(f"step {shown(target)} is outside this part", hint, *below)
    elif inside is not None:
        hint = f"lead to its start, '{inside.head.part.start}'"
        entry.wrong(f"step {shown(target)} is inside {shown(inside.use.part.part)}", hint, *below)
    elif sections.whole:
        also = [RESUME] if resume else []
        entry.wrong(
            f"there is no step {shown(target)}",
            lambda: did_you_mean(target, [*sections.targets(entry), *also]),
            *below,
        )
