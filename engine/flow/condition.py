"""The condition language: `or`, `and`, `not`, `known NAME`, comparisons, `NAME is a|b`, `a.x - b.y`.

Our own parser, because a condition is three-valued and its quantities are checked when the flow is loaded.
"""

from __future__ import annotations

from engine.flow.condition_nodes import Test
from engine.flow.condition_parser import Parser
from engine.flow.model import Facts
from engine.flow.names import NameTable
from engine.flow.tokens import ConditionError

__all__ = ["Condition", "ConditionError", "parse_condition"]

LONGEST = 500
"""Characters of a condition."""


class Condition:
    """A parsed condition; `names` are the full names in order of first use, `guarded` those under `known`.

    `test` is its tree.
    """

    __slots__ = ("guarded", "names", "test", "text")

    def __init__(self, text: str, test: Test, names: tuple[str, ...], guarded: frozenset[str]) -> None:
        self.text, self.names, self.guarded = text, names, guarded
        self.test = test

    def evaluate(self, facts: Facts, current_set: str | None = None) -> bool | None:
        """True, False, or None for unknown. `current_set` is what unprefixed names of watch rules mean."""
        return self.test.truth(facts, current_set)

    def __repr__(self) -> str:
        return f"Condition({self.text!r})"


def parse_condition(text: str, names: NameTable, *, in_set: bool = False) -> Condition:
    """Parses and checks a condition; `in_set` is for watch rules, where set readings need no prefix.

    Raises ConditionError with message, hint and offset.
    """
    if len(text) > LONGEST:
        raise ConditionError(
            f"the condition has {len(text)} characters", f"at most {LONGEST}: split the rule"
        )
    test, used, guarded = Parser(text, names, in_set).whole()
    return Condition(" ".join(text.split()), test, used, guarded)
