"""The grammar of conditions, from tokens to nodes.

any    = every { "or" every }
every  = single { "and" single }
single = "not" single | "(" any ")" | "known" NAME | test
test   = NAME "is" WORD { "|" WORD } | side ( "<" | "<=" | ">" | ">=" ) side
side   = NUMBER UNIT | NAME [ "-" NAME ]
"""

from __future__ import annotations

from engine.flow import condition_nodes as nodes
from engine.flow.condition_sides import NameSide, NumberSide, Side, comparison, difference
from engine.flow.names import KEYWORDS, Meaning, NameTable, UnknownName
from engine.flow.suggest import did_you_mean, shown
from engine.flow.tokens import ConditionError, Token, tokens
from engine.physics.quantity import kind_words

DEEPEST = 20
"""Parentheses and `not` inside one another."""

_SPACES = "put spaces round the minus"
_SIGNS = ("<", "<=", ">", ">=")


class Parser:
    """Recursive descent over the tokens; notes every name it meets."""

    def __init__(self, text: str, names: NameTable, in_set: bool) -> None:
        self._text, self._table, self._in_set = text, names, in_set
        self._tokens = tokens(text)
        self._at = 0
        self._depth = 0
        self._names: dict[str, None] = {}
        self._guarded: set[str] = set()

    def whole(self) -> tuple[nodes.Test, tuple[str, ...], frozenset[str]]:
        """The test, the names in order of first use, and those under `known`. Raises ConditionError."""
        if self._now.kind == "end":
            raise ConditionError(
                "the condition is empty", "write for instance: ambient_temperature >= 18 degC"
            )
        test = self._any()
        if self._now.kind != "end":
            raise self._unexpected_after()
        return test, tuple(self._names), frozenset(self._guarded)

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
                f"{shown(token.text)} is not known", f"write '{token.text.lower()}'", token.start
            )
        hint = _SPACES if token.text[:1] in ("-", "\u2212") else "join tests with 'and' or 'or'"
        return ConditionError(f"{shown(token.text)} is not expected here", hint, token.start)

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
            raise self._no_test(start)
        return comparison(left, sign.text, self._side())

    def _no_test(self, start: Token) -> ConditionError:
        """A side stands alone."""
        if self._now.text == "is":
            return ConditionError("only a single name goes before 'is'", "", self._now.start)
        if self._now.text[:1] in ("-", "\u2212"):
            return self._unexpected_after()
        said = shown(self._text[start.start : self._tokens[self._at - 1].end])
        hint = "write 'NAME is WORD', 'known NAME', or a comparison with < <= > >="
        return ConditionError(f"{said} is not a whole test", hint, start.start)

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
        raise ConditionError(what, lambda: did_you_mean(token.text, meaning.choices), token.start)

    # --- sides

    def _side(self) -> Side:
        if self._now.kind == "number":
            return self._number()
        first = self._quantity()
        if self._now.kind != "minus":
            return first
        minus = self._next()
        second = self._quantity()
        return difference(first, second, minus.start)

    def _quantity(self) -> NameSide:
        token = self._name_token("here comes a name or a number with its unit")
        meaning = self._meaning(token)
        if meaning.kind is None:
            words = "|".join(meaning.choices[:2])
            hint = f"write for instance '{token.text} is {words}'"
            raise ConditionError(f"'{token.text}' is a choice, not a number", hint, token.start)
        return NameSide(self._source(token.text), meaning.kind, f"'{token.text}'", token.start)

    def _number(self) -> NumberSide:
        first = self._next()
        last = first
        while self._now.kind in ("word", "number") and self._now.text.lower() not in KEYWORDS:
            last = self._next()
        return NumberSide(self._text[first.start : last.end], first.start, has_unit=last is not first)

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
            hint = _SPACES if self._is_tight_minus(token.text) else error.hint
            raise ConditionError(
                error.message, hint, token.start, secondary=error.broken, lacking=True
            ) from None
        self._names.setdefault(token.text)
        return meaning

    def _is_tight_minus(self, word: str) -> bool:
        """`a.x-b.y`, meant as a difference."""
        first, _, second = word.partition("-")
        return "." in first and "." in second

    def _source(self, name: str) -> nodes.Source:
        if self._in_set and "." not in name and self._table.belongs_to_set(name):
            return nodes.CurrentName(name, or_job=self._table.belongs_to_job(name))
        return nodes.Name(name)
