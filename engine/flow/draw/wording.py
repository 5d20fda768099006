"""A flow's conditions and names in words: labels instead of names, choices as a person reads them."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.computed import COMPUTED
from engine.flow.draw.cells import clipped
from engine.flow.model import Flow
from engine.flow.plain import one_line
from engine.flow.tokens import ConditionError, Token, tokens

LONGEST = 200
"""Columns of a title or label; more is cut, for a drawing is no place to read an essay."""

_SIGNS = {"<": "under", "<=": "at most", ">": "over", ">=": "at least", "|": "or"}


def short(text: str) -> str:
    """Text of a flow on one safe line."""
    return clipped(one_line(text), LONGEST)


class Wording:
    """Says the conditions of one flow; each is put into words once."""

    def __init__(self, flow: Flow) -> None:
        self._flow = flow
        self._said: dict[str, str] = {}
        self._sets = {name: short(state.label) for name, state in flow.sets.items()}

    def condition(self, text: str) -> str:
        """A condition of the flow, as it would be said.

        `loaded.high_side - baseline.high_side >= 15 psi` becomes `High-side gauge (Load raised) minus
        High-side gauge (Baseline) at least 15 psi`.
        """
        if text not in self._said:
            self._said[text] = self._say(text)
        return self._said[text]

    def finding(self, id: str) -> str:
        """A finding's title, or its id where the flow declares none."""
        found = self._flow.findings.get(id)
        return short(found.title if found else id)

    def set_label(self, name: str) -> str:
        """A set's label."""
        return self._sets.get(name) or short(name)

    def _say(self, text: str) -> str:
        try:
            found = tokens(text)
        except ConditionError:  # not one of a checked flow: shown as it is
            return short(text)
        said = " ".join(self._words(found))
        return clipped(said.replace("( ", "(").replace(" )", ")"), 4 * LONGEST)

    def _words(self, found: list[Token]) -> Iterator[str]:
        """One word or phrase a token; `not known NAME` is turned round."""
        choices: dict[str, str] = {}  # of the name that the present `is` is about
        after_is = False
        ending = ""  # what `known` says after its name
        for here, token in enumerate(found[:-1]):
            following = found[here + 1].text
            if token.kind == "minus":
                yield "minus"
            elif token.text == "not" and following == "known":
                ending = "is not known"
            elif token.text == "known":
                ending = ending or "is known"
            elif token.text == "is":
                after_is = True
                yield "is"
            elif token.kind != "word":
                after_is = after_is and token.text == "|"
                yield _SIGNS.get(token.text, short(token.text))
            elif after_is:
                yield choices.get(token.text, short(token.text))
                after_is = following == "|"
            else:
                label, choices = self._label(token.text)
                yield label
                if ending:
                    yield ending
                    ending = ""

    def _label(self, name: str) -> tuple[str, dict[str, str]]:
        """A name's label with its set, and its choices by word; any other word is its own label."""
        in_set, dot, last = name.rpartition(".")
        reading = self._flow.readings.get(last)
        if reading is not None:
            label, choices = short(reading.label), {c.word: short(c.label) for c in reading.choices}
        elif last in COMPUTED and (not dot or in_set in self._flow.sets):
            label, choices = COMPUTED[last].label, {}
        else:
            return short(name), {}
        return (f"{label} ({self.set_label(in_set)})" if dot else label), choices
