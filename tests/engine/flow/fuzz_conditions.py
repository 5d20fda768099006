"""Random conditions: any text at all, and conditions whose answer is known from how they were made."""

from __future__ import annotations

from typing import NamedTuple

from hypothesis import strategies as st

from engine.flow.condition import Condition, ConditionError, parse_condition
from engine.flow.lint.conditions import impossible
from engine.flow.lint.interval import EVERYTHING, Interval
from engine.flow.lint.state import Choices
from engine.flow.lint.terms import Among, Case, Fact, Known, TooMany, Want, cases
from engine.flow.model import Choice, Reading, Value
from engine.flow.names import NameTable
from engine.physics.quantity import Kind, to_si
from tests.engine.flow.test_condition import TABLE

WORDS = ["a", "b", "c", "frost", "ambient", "low_side", "loaded.low_side", "baseline.low_side", "loaded.duty", "nothing", "or", "and", "not", "known", "is", "yes", "none", "drier", "|", "(", ")", "<", "<=", ">", ">=", "-", "−", "15", "-3", "2,7", "psi", "K", "degC", "percent", "points", "1/min", "inHg", "vac", "=", "!", "&", "1e9", ".", "'", '"', "#", "\x00"]  # fmt: skip # noqa: E501

ANY_TEXT = st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join) | st.text(max_size=120)


def parse(text: str) -> Condition | ConditionError:
    """The condition, or what is wrong with it."""
    try:
        return parse_condition(text, TABLE)
    except ConditionError as error:
        return error


def check_any_text(text: str) -> None:
    """It is a condition, or has one error inside it."""
    parsed = parse(text)
    if isinstance(parsed, ConditionError):
        assert parsed.message
        assert 0 <= parsed.offset <= len(text)
        assert isinstance(parsed.hint, str)
    else:
        assert parsed.evaluate({}) in (True, False, None)
        assert parsed.guarded <= set(parsed.names)


# --- logic: conditions made together with the answer that the definitions of the words give

_TESTS = st.sampled_from([("a is yes", "a"), ("b is yes", "b"), ("c is no", "not c")])


def _joined(inner: st.SearchStrategy[tuple[str, str]]) -> st.SearchStrategy[tuple[str, str]]:
    pairs = st.tuples(inner, inner)
    return st.one_of(
        inner.map(lambda x: (f"not ({x[0]})", f"not ({x[1]})")),
        pairs.map(lambda p: (f"({p[0][0]}) and ({p[1][0]})", f"({p[0][1]}) and ({p[1][1]})")),
        pairs.map(lambda p: (f"({p[0][0]}) or ({p[1][0]})", f"({p[0][1]}) or ({p[1][1]})")),
    )


LOGIC = st.tuples(
    st.recursive(_TESTS, _joined, max_leaves=8),
    st.tuples(st.booleans(), st.booleans(), st.booleans()),
    st.sets(st.sampled_from("abc")),
)
Logic = tuple[tuple[str, str], tuple[bool, bool, bool], set[str]]


def check_logic(drawn: Logic) -> None:
    """Where all is known the logic is the ordinary one, and less knowledge never turns an answer round."""
    (text, python), values, hidden = drawn
    known = dict(zip("abc", values, strict=True))
    facts = {name: "yes" if value else "no" for name, value in known.items()}
    condition = parse_condition(text, TABLE)
    assert condition.evaluate(facts) is eval(python, {}, known)
    partial = condition.evaluate({name: value for name, value in facts.items() if name not in hidden})
    assert partial is None or partial is condition.evaluate(facts)


# --- what lint holds for certain, against what conditions really do


def _choice(name: str, words: str, several: bool = False) -> Reading:
    choices = tuple(Choice(word, word) for word in words.split())
    return Reading(name, name, choices=choices, several=several, alone="none" if several else None)


READINGS = {
    "drive": _choice("drive", "belt electric none"),
    "codes": _choice("codes", "none charge wire", several=True),
    "p": Reading("p", "p", kind=Kind.PRESSURE, unit="psi"),
    "q": Reading("q", "q", kind=Kind.PRESSURE, unit="psi"),
    "r": Reading("r", "r", kind=Kind.PRESSURE, unit="psi"),
}
NAMES = NameTable(READINGS)
LOWEST, HIGHEST = 0, 8  # psi that q can be


class MadeUp:
    """What is certain of these readings: q has a possible range, r is never known."""

    def choices(self, name: str) -> Choices | None:
        reading = READINGS[name]
        words = frozenset(choice.word for choice in reading.choices)
        return Choices(words, reading.several, reading.alone) if words else None

    def range(self, name: str) -> Interval:
        return Interval(_psi(LOWEST), _psi(HIGHEST), True, True) if name == "q" else EVERYTHING

    def is_never_known(self, name: str) -> bool:
        return name == "r"

    def spend(self) -> None:
        pass


def _psi(number: float) -> float:
    return to_si(number, "psi", Kind.PRESSURE)


_LIMIT = st.integers(-2, 10)
_SIGN = st.sampled_from(["<", "<=", ">", ">="])
_SIDE = st.sampled_from(["p", "q", "p - q", "q - p", "p - p", "r"])
_LEAF = st.one_of(
    st.tuples(_SIDE, _SIGN, _LIMIT).map(lambda t: f"{t[0]} {t[1]} {t[2]} psi"),
    st.tuples(_LIMIT, _SIGN, _SIDE).map(lambda t: f"{t[0]} psi {t[1]} {t[2]}"),
    st.tuples(st.sampled_from(["p", "q"]), _SIGN, st.sampled_from(["p", "q"])).map(" ".join),
    st.sets(st.sampled_from(["belt", "electric", "none"]), min_size=1).map(
        lambda w: "drive is " + "|".join(sorted(w))
    ),
    st.sets(st.sampled_from(["none", "charge", "wire"]), min_size=1).map(
        lambda w: "codes is " + "|".join(sorted(w))
    ),
    st.sampled_from(["p", "q", "r", "drive", "codes"]).map(lambda name: f"known {name}"),
)


def _tree(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    pairs = st.tuples(inner, st.sampled_from(["and", "or"]), inner)
    return inner.map(lambda x: f"not ({x})") | pairs.map(lambda p: f"({p[0]}) {p[1]} ({p[2]})")


_MAYBE = st.none() | st.integers(-6, 24).map(lambda n: _psi(n / 2))
_CODES = st.sampled_from([None, {"none"}, {"charge"}, {"wire"}, {"charge", "wire"}]).map(
    lambda words: None if words is None else frozenset(words)
)
_FACTS = st.fixed_dictionaries(
    {
        "drive": st.sampled_from([None, "belt", "electric", "none"]),
        "codes": _CODES,
        "p": _MAYBE,
        "q": st.none() | st.integers(2 * LOWEST, 2 * HIGHEST).map(lambda n: _psi(n / 2)),
    }
)


class Reasoned(NamedTuple):
    """A condition, and some states of the world it can be asked in."""

    text: str
    worlds: list[dict[str, Value | None]]


REASONED = st.builds(
    Reasoned, st.recursive(_LEAF, _tree, max_leaves=8), st.lists(_FACTS, min_size=1, max_size=6)
)


def check_reasoning(drawn: Reasoned) -> None:
    """The cases of a condition hold just where it is so, and what is said to be impossible never happens."""
    condition = parse_condition(drawn.text, NAMES)
    for want, wanted in _WANTED.items():
        try:
            every = cases(condition.test, want)
        except TooMany:
            continue
        never = impossible(condition.test, want, MadeUp()) is not None
        for world in drawn.worlds:
            happens = condition.evaluate(world) in wanted
            assert any(_holds(case, world) for case in every) is happens, (want, world)
            assert not (never and happens), (want, world)


_WANTED: dict[Want, tuple[bool | None, ...]] = {
    Want.TRUE: (True,),
    Want.FALSE: (False,),
    Want.NOT_TRUE: (False, None),
    Want.NOT_FALSE: (True, None),
}


def _holds(case: Case, world: dict[str, Value | None]) -> bool:
    return all(_is_so(fact, world) for fact in case)


def _is_so(fact: Fact, world: dict[str, Value | None]) -> bool:
    if isinstance(fact, Known):
        return (world.get(fact.name) is not None) is fact.known
    if isinstance(fact, Among):
        value = world.get(fact.name)
        if value is None:
            return False
        words = value if isinstance(value, frozenset) else {value}
        return bool(fact.words & words) is fact.inside
    if any(world.get(name) is None for name in fact.names):
        return False
    total = 0.0
    for name, factor in fact.form:
        value = world.get(name)
        if not isinstance(value, float):
            return False
        total += factor * value
    span, grain = fact.interval, fact.grain
    over = total >= span.low - grain if span.low_in else total > span.low + grain
    under = total <= span.high + grain if span.high_in else total < span.high - grain
    return over and under
