"""Random input: conditions and files never crash the reader, and what it accepts means what it says."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

import string

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from engine.flow.condition import Condition, ConditionError, parse_condition
from engine.flow.load import load_bundle
from engine.flow.problem import FlowErrors, Problem
from tests.engine.flow.small import FLOW
from tests.engine.flow.test_condition import TABLE

BOUNDED = settings(
    max_examples=300, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)

WORDS = ["a", "b", "c", "frost", "ambient", "low_side", "loaded.low_side", "baseline.low_side", "loaded.duty", "nothing", "or", "and", "not", "known", "is", "yes", "none", "drier", "|", "(", ")", "<", "<=", ">", ">=", "-", "−", "15", "-3", "2,7", "psi", "K", "degC", "percent", "points", "1/min", "inHg", "vac", "=", "!", "&", "1e9", ".", "'", '"', "#", "\x00"]  # fmt: skip


def parse(text: str) -> Condition | ConditionError:
    """The condition, or what is wrong with it."""
    try:
        return parse_condition(text, TABLE)
    except ConditionError as error:
        return error


@BOUNDED
@given(st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join) | st.text(max_size=120))
@example("a is")
@example("known")
@example("not")
@example("- - -")
@example("\u3000")
def test_any_text_is_a_condition_or_one_error_inside_it(text: str) -> None:
    parsed = parse(text)
    if isinstance(parsed, ConditionError):
        assert parsed.message
        assert 0 <= parsed.offset <= len(text)
        assert isinstance(parsed.hint, str)
    else:
        assert parsed.evaluate({}) in (True, False, None)
        assert parsed.guarded <= set(parsed.names)


# Conditions built together with the answer that the definitions of the words give.
_TESTS = st.sampled_from([("a is yes", "a"), ("b is yes", "b"), ("c is no", "not c")])


def _joined(inner: st.SearchStrategy[tuple[str, str]]) -> st.SearchStrategy[tuple[str, str]]:
    pairs = st.tuples(inner, inner)
    return st.one_of(
        inner.map(lambda x: (f"not ({x[0]})", f"not ({x[1]})")),
        pairs.map(lambda p: (f"({p[0][0]}) and ({p[1][0]})", f"({p[0][1]}) and ({p[1][1]})")),
        pairs.map(lambda p: (f"({p[0][0]}) or ({p[1][0]})", f"({p[0][1]}) or ({p[1][1]})")),
    )


@BOUNDED
@given(st.recursive(_TESTS, _joined, max_leaves=8), st.tuples(st.booleans(), st.booleans(), st.booleans()))
def test_where_all_is_known_the_logic_is_the_ordinary_one(
    both: tuple[str, str], values: tuple[bool, bool, bool]
) -> None:
    text, python = both
    known = dict(zip("abc", values, strict=True))
    facts = {name: "yes" if value else "no" for name, value in known.items()}
    assert parse_condition(text, TABLE).evaluate(facts) is eval(python, {}, known)


@BOUNDED
@given(
    st.recursive(_TESTS, _joined, max_leaves=8),
    st.sets(st.sampled_from("abc")),
    st.tuples(st.booleans(), st.booleans(), st.booleans()),
)
def test_more_knowledge_never_changes_an_answer(
    both: tuple[str, str], hidden: set[str], values: tuple[bool, bool, bool]
) -> None:
    """What is true or false with some readings unknown stays so whatever they turn out to be."""
    condition = parse_condition(both[0], TABLE)
    facts = {name: "yes" if value else "no" for name, value in zip("abc", values, strict=True)}
    partial = condition.evaluate({name: value for name, value in facts.items() if name not in hidden})
    assert partial is None or partial is condition.evaluate(facts)


def load(data: bytes) -> None:
    """Loads, and looks at every problem if it must."""
    lines = data.count(b"\n") + 2
    for problem in problems(data):
        assert problem.what
        assert problem.line is None or 1 <= problem.line <= lines


def problems(data: bytes) -> tuple[Problem, ...]:
    """What is wrong with a flow of these bytes."""
    try:
        load_bundle({"small.yaml": data}, "small.yaml")
    except FlowErrors as errors:
        return errors.problems
    return ()


@BOUNDED
@given(st.binary(max_size=400) | st.text(max_size=400).map(lambda text: text.encode("utf-8", "ignore")))
def test_any_bytes(data: bytes) -> None:
    load(data)


@BOUNDED
@given(
    st.integers(0, len(FLOW) - 1),
    st.integers(0, 60),
    st.text(string.ascii_lowercase + string.digits + " :-[]{},|>'\"&*!%#\n\t_", max_size=20),
)
def test_a_flow_damaged_in_one_place(start: int, length: int, other: str) -> None:
    load((FLOW[:start] + other + FLOW[start + length :]).encode())


_PLAIN = st.recursive(
    st.sampled_from(["x", "all", "fine", "low_side", "5 psi", "yes", "''", "weather", "resume", "a > 5 psi"]),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda items: "[" + ", ".join(items) + "]")
        | st.dictionaries(st.sampled_from(["a", "when", "go", "x"]), inner, max_size=3).map(
            lambda entries: "{" + ", ".join(f"{key}: {value}" for key, value in entries.items()) + "}"
        )
    ),
    max_leaves=6,
)
_VALUES = [
    line for line in FLOW.splitlines() if line.startswith("    ") and ": " in line and not line.endswith("|")
]


@BOUNDED
@given(st.sampled_from(_VALUES), _PLAIN)
def test_any_value_in_the_place_of_another(line: str, value: str) -> None:
    changed = line.split(": ", 1)[0] + ": " + value
    load(FLOW.replace(line, changed, 1).encode())


_LINES = FLOW.splitlines(keepends=True)


@BOUNDED
@given(st.integers(0, len(_LINES) - 1), st.integers(1, 6))
def test_lines_left_out(start: int, count: int) -> None:
    load("".join(_LINES[:start] + _LINES[start + count :]).encode())
