"""The condition language: `or`, `and`, `not`, `known NAME`, comparisons, `NAME is a|b`, `a.x - b.y`.

Our own parser, because a condition is three-valued and its quantities are checked when the flow is loaded.
"""

from __future__ import annotations

from engine.flow import condition_nodes as nodes
from engine.flow.model import Facts
from engine.flow.names import KEYWORDS, Meaning, NameTable, UnknownName
from engine.flow.suggest import did_you_mean, listed, shown
from engine.flow.tokens import ConditionError, Token, tokens
from engine.physics.quantity import Kind, QuantityError, difference_of, kind_words, parse, units_of

__all__ = ["Condition", "ConditionError", "parse_condition"]

LONGEST = 500
"""Characters of a condition."""

DEEPEST = 20
"""Parentheses and `not` inside one another."""

_SIGNS = ("<", "<=", ">", ">=")

_GRAINS = {"pascal": 1e-3, "kelvin": 1e-6}
_GRAIN_OF = {
    Kind.PRESSURE: _GRAINS["pascal"],
    Kind.ABSOLUTE_PRESSURE: _GRAINS["pascal"],
    Kind.PRESSURE_DIFFERENCE: _GRAINS["pascal"],
    Kind.TEMPERATURE: _GRAINS["kelvin"],
    Kind.TEMPERATURE_DIFFERENCE: _GRAINS["kelvin"],
}
_SMALLEST_GRAIN = 1e-9
# Far below what any instrument resolves, far above the rounding of doubles at the size of each quantity.


class Condition:
    """A parsed condition; `names` are the full names in order of first use, `guarded` those under `known`."""

    __slots__ = ("_test", "guarded", "names", "text")

    def __init__(self, text: str, test: nodes.Test, names: tuple[str, ...], guarded: frozenset[str]) -> None:
        self.text, self.names, self.guarded = text, names, guarded
        self._test = test

    def evaluate(self, facts: Facts, current_set: str | None = None) -> bool | None:
        """True, False, or None for unknown. `current_set` is what unprefixed names of watch rules mean."""
        return self._test.truth(facts, current_set)

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
    return _Parser(text, names, in_set).condition()


class _Parser:
    def __init__(self, text: str, names: NameTable, in_set: bool) -> None:
        self._text, self._table, self._in_set = text, names, in_set
        self._tokens = tokens(text)
        self._at = 0
        self._depth = 0
        self._names: dict[str, None] = {}
        self._guarded: set[str] = set()

    def condition(self) -> Condition:
        if self._now.kind == "end":
            raise ConditionError(
                "the condition is empty", "write for instance: ambient_temperature >= 18 degC"
            )
        test = self._any()
        if self._now.kind != "end":
            raise self._unexpected_after()
        return Condition(" ".join(self._text.split()), test, tuple(self._names), frozenset(self._guarded))

    # --- words

    @property
    def _now(self) -> Token:
        return self._tokens[self._at]

    def _next(self) -> Token:
        token = self._tokens[self._at]
        if token.kind != "end":
            self._at += 1
        return token

    def _take(self, *texts: str) -> Token | None:
        if self._now.kind in ("word", "sign") and self._now.text in texts:
            return self._next()
        return None

    def _unexpected_after(self) -> ConditionError:
        token = self._now
        if token.text == ")":
            return ConditionError("a ')' without its '('", "delete it", token.start)
        if token.text in _SIGNS or token.text == "is":
            return ConditionError("two comparisons in a row", "join them with 'and'", token.start)
        if token.text.lower() in ("and", "or"):
            return ConditionError(
                f"{shown(token.text)}", "write 'and' and 'or' in small letters", token.start
            )
        return ConditionError(
            f"{shown(token.text)} is not expected here", "join tests with 'and' or 'or'", token.start
        )

    # --- logic

    def _any(self) -> nodes.Test:
        parts = [self._every()]
        while self._take("or"):
            parts.append(self._every())
        return parts[0] if len(parts) == 1 else nodes.Any(tuple(parts))

    def _every(self) -> nodes.Test:
        parts = [self._single()]
        while self._take("and"):
            parts.append(self._single())
        return parts[0] if len(parts) == 1 else nodes.Every(tuple(parts))

    def _single(self) -> nodes.Test:
        opened = self._take("not", "(")
        if opened is None:
            return self._known() if self._take("known") else self._test()
        self._depth += 1
        if self._depth > DEEPEST:
            raise ConditionError(f"nested deeper than {DEEPEST}", "split the rule", opened.start)
        inner = nodes.Not(self._single()) if opened.text == "not" else self._inside(opened)
        self._depth -= 1
        return inner

    def _inside(self, opened: Token) -> nodes.Test:
        inner = self._any()
        if not self._take(")"):
            if self._now.kind == "end":
                raise ConditionError("a '(' without its ')'", "close it", opened.start)
            raise self._unexpected_after()
        return inner

    def _known(self) -> nodes.Test:
        token = self._name_token("after 'known' comes a name")
        self._meaning(token)
        self._guarded.add(token.text)
        return nodes.IsKnown(self._source(token.text))

    # --- tests

    def _test(self) -> nodes.Test:
        start = self._now
        if start.kind == "word" and self._tokens[self._at + 1].text == "is":
            return self._is_word()
        left = self._side()
        sign = self._take(*_SIGNS)
        if sign is None:
            if self._now.text == "is":
                raise ConditionError("only a single name goes before 'is'", "", self._now.start)
            raise ConditionError(
                f"{shown(self._text[start.start : self._tokens[self._at - 1].end])} is not a whole test",
                "write 'NAME is WORD', 'known NAME', or a comparison with < <= > >=",
                start.start,
            )
        return self._compare(left, sign, self._side())

    def _is_word(self) -> nodes.Test:
        token = self._name_token("a name goes before 'is'")
        meaning = self._meaning(token)
        is_token = self._next()
        if meaning.kind is not None:
            raise ConditionError(
                f"'{token.text}' is {kind_words(meaning.kind)}",
                "compare it with < <= > or >=",
                is_token.start,
            )
        words = [self._choice(token, meaning)]
        while self._take("|"):
            words.append(self._choice(token, meaning))
        return nodes.IsWord(self._source(token.text), frozenset(words))

    def _choice(self, name: Token, meaning: Meaning) -> str:
        token = self._next()
        if token.text in meaning.choices and token.kind != "sign":
            return token.text
        if token.text == "not":
            raise ConditionError("'is not' is not known", f"write 'not {name.text} is WORD'", token.start)
        if token.text in ("unknown", "known"):
            hint = f"write '{'not ' if token.text == 'unknown' else ''}known {name.text}'"
            raise ConditionError(f"'{token.text}' is never a choice", hint, token.start)
        what = (
            f"{shown(token.text)} is no choice of '{name.text}'"
            if token.text
            else "a word is missing after 'is'"
        )
        raise ConditionError(what, did_you_mean(token.text, meaning.choices), token.start)

    def _compare(self, left: _Side, sign: Token, right: _Side) -> nodes.Test:
        if left.kind is None and right.kind is None:
            raise ConditionError("both sides are numbers", "name a reading on one side", left.start)
        kind = left.kind or right.kind
        assert kind is not None
        if left.kind is not None and right.kind is not None and left.kind != right.kind:
            raise ConditionError(
                f"{left.words} is {kind_words(left.kind)}, {right.words} is {kind_words(right.kind)}",
                "compare like with like",
                right.start,
            )
        grain = _GRAIN_OF.get(kind, _SMALLEST_GRAIN)
        return nodes.Compare(left.source(kind), sign.text, right.source(kind), grain)

    # --- sides

    def _side(self) -> _Side:
        if self._now.kind == "number":
            return self._number()
        first = self._quantity()
        if self._now.kind != "minus":
            return first
        minus = self._next()
        second = self._quantity()
        return self._difference(first, minus, second)

    def _difference(self, first: _Side, minus: Token, second: _Side) -> _Side:
        assert first.kind is not None
        assert second.kind is not None
        if first.kind != second.kind:
            raise ConditionError(
                f"{first.words} is {kind_words(first.kind)}, {second.words} is {kind_words(second.kind)}",
                "only two values of one quantity have a difference",
                minus.start,
            )
        kind = difference_of(first.kind)
        node = nodes.Difference(first.source(first.kind), second.source(second.kind))
        return _Name(node, kind, f"{first.words} - {second.words}", first.start)

    def _quantity(self) -> _Name:
        token = self._name_token("here comes a name or a number with its unit")
        meaning = self._meaning(token)
        if meaning.kind is None:
            raise ConditionError(
                f"'{token.text}' is a choice, not a number",
                f"write '{token.text} is {listed(meaning.choices[:2], '|')}'".replace(" | ", "|"),
                token.start,
            )
        return _Name(self._source(token.text), meaning.kind, f"'{token.text}'", token.start)

    def _number(self) -> _Number:
        first = self._next()
        last = first
        while self._now.kind in ("word", "number") and self._now.text not in KEYWORDS:
            last = self._next()
        return _Number(self._text[first.start : last.end], first.start, has_unit=last is not first)

    # --- names

    def _name_token(self, otherwise: str) -> Token:
        token = self._next()
        if token.kind == "word" and token.text not in KEYWORDS:
            return token
        found = f", not {shown(token.text)}" if token.text else ", but the condition ends"
        raise ConditionError(otherwise + found, "", token.start)

    def _meaning(self, token: Token) -> Meaning:
        try:
            meaning = self._table.meaning(token.text, in_set=self._in_set)
        except UnknownName as error:
            raise ConditionError(error.message, error.hint, token.start, secondary=error.broken) from None
        self._names.setdefault(token.text)
        return meaning

    def _source(self, name: str) -> nodes.Source:
        if self._in_set and "." not in name and self._table.belongs_to_set(name):
            return nodes.CurrentName(name, or_job=self._table.belongs_to_job(name))
        return nodes.Name(name)


class _Name:
    """A side that is a name or a difference; its quantity is known."""

    def __init__(self, node: nodes.Source, kind: Kind, words: str, start: int) -> None:
        self.kind: Kind | None = kind
        self.words, self.start = words, start
        self._node = node

    def source(self, kind: Kind) -> nodes.Source:
        return self._node


class _Number:
    """A side that is a number; the other side decides what its unit means (15 psi: gauge or difference)."""

    kind: Kind | None = None

    def __init__(self, text: str, start: int, has_unit: bool) -> None:
        self.words, self.start = text, start
        self._has_unit = has_unit

    def source(self, kind: Kind) -> nodes.Source:
        unit = units_of(kind)[0]
        if (
            not self._has_unit
            and kind is not Kind.NUMBER
            and not self.words[-1].isalpha()
            and "%" not in self.words
        ):
            raise ConditionError(
                f"'{self.words}' needs its unit", f"write for instance {self.words} {unit}", self.start
            )
        try:
            return nodes.Number(parse(self.words, kind, unit).si)
        except QuantityError as error:
            raise ConditionError(str(error).rstrip("."), "", self.start) from None


_Side = _Name | _Number
