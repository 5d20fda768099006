"""The two sides of a comparison: a name or difference with its quantity, or a number that takes it over."""

from __future__ import annotations

from engine.flow import condition_nodes as nodes
from engine.flow.tokens import ConditionError
from engine.physics.quantity import Kind, QuantityError, difference_of, kind_words, parse, units_of

_PASCAL, _KELVIN, _SMALLEST = 1e-3, 1e-6, 1e-9
_GRAINS = {
    Kind.PRESSURE: _PASCAL,
    Kind.ABSOLUTE_PRESSURE: _PASCAL,
    Kind.PRESSURE_DIFFERENCE: _PASCAL,
    Kind.TEMPERATURE: _KELVIN,
    Kind.TEMPERATURE_DIFFERENCE: _KELVIN,
}
# Far below what any instrument resolves, far above the rounding of doubles at the size of each quantity.


class NameSide:
    """A name or a difference of two; its quantity is known."""

    def __init__(self, node: nodes.Source, kind: Kind, words: str, start: int) -> None:
        self.kind: Kind = kind
        self.words, self.start = words, start
        self._node = node

    def source(self, kind: Kind) -> nodes.Source:
        """Its value; `kind` is its own."""
        return self._node


class NumberSide:
    """A number; the other side decides what its unit means (15 psi: gauge or difference)."""

    kind: Kind | None = None

    def __init__(self, text: str, start: int, has_unit: bool) -> None:
        self.words, self.start = text, start
        self._has_unit = has_unit

    def source(self, kind: Kind) -> nodes.Source:
        """Its value in SI. Raises ConditionError where the unit is missing or of another quantity."""
        unit = units_of(kind)[0]
        has_unit = self._has_unit or not self.words[-1].isdigit()
        if not has_unit and kind is not Kind.NUMBER:
            raise ConditionError(
                f"'{self.words}' needs its unit", f"write for instance {self.words} {unit}", self.start
            )
        try:
            parsed = parse(self.words, kind, unit)
        except QuantityError as error:
            raise ConditionError(str(error), "", self.start) from None
        return nodes.Number(parsed.si, parsed.number, parsed.unit)


Side = NameSide | NumberSide


def difference(first: NameSide, second: NameSide, at: int) -> NameSide:
    """`first - second`. Raises ConditionError at offset `at` if they are of two quantities."""
    if first.kind != second.kind:
        hint = "only two values of one quantity have a difference"
        raise ConditionError(_two_kinds(first, second), hint, at)
    node = nodes.Difference(first.source(first.kind), second.source(second.kind))
    return NameSide(node, difference_of(first.kind), f"{first.words} - {second.words}", first.start)


def comparison(left: Side, sign: str, right: Side) -> nodes.Compare:
    """`left SIGN right`. Raises ConditionError if they cannot be compared."""
    kind = left.kind or right.kind
    if kind is None:
        raise ConditionError("both sides are numbers", "name a reading on one side", left.start)
    if isinstance(left, NameSide) and isinstance(right, NameSide) and left.kind != right.kind:
        raise ConditionError(_two_kinds(left, right), "compare like with like", right.start)
    return nodes.Compare(left.source(kind), sign, right.source(kind), _GRAINS.get(kind, _SMALLEST))


def _two_kinds(first: NameSide, second: NameSide) -> str:
    return f"{first.words} is {kind_words(first.kind)}, {second.words} is {kind_words(second.kind)}"
