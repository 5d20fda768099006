"""How many steps a way can still take, loops left out: the longest one from the start is the trunk."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Heights:
    """For each step the steps of the longest way from it, itself counted, and the ways that lead back."""

    of: dict[str, int] = field(default_factory=dict)
    back: set[tuple[str, str]] = field(default_factory=set)


def heights(ways: Mapping[str, Sequence[str]], roots: Iterable[str]) -> Heights:
    """The heights of all steps that can be come to from `roots`.

    A way back to a step that lies before it, seen from the roots in their order, is left out: so flows that
    turn in circles have heights too. Each way is looked at twice, and no recursion limits the length.
    """
    told = Heights()
    found = told.of
    open_: set[str] = set()
    for root in roots:
        stack = [] if root in found else [(root, iter(ways[root]))]
        open_.update(step for step, _ in stack)
        while stack:
            step, left = stack[-1]
            further = next((to for to in left if to not in found and to not in open_), None)
            if further is not None:
                open_.add(further)
                stack.append((further, iter(ways[further])))
                continue
            told.back.update((step, to) for to in ways[step] if to in open_)
            found[step] = 1 + max((found[to] for to in ways[step] if to not in open_), default=0)
            open_.discard(step)
            stack.pop()
    return told
