"""Every mistake in a condition: what is said, where, and what is suggested."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.flow.condition import ConditionError, parse_condition
from tests.engine.flow.test_condition import TABLE
from tests.pace import Paced


def error_of(text: str, *, in_set: bool = False) -> ConditionError:
    with pytest.raises(ConditionError) as caught:
        parse_condition(text, TABLE, in_set=in_set)
    return caught.value


# The text with a mark before the place that the message must point at, words of message and hint.
@pytest.mark.parametrize(
    ("marked", "message", "hint"),
    [
        ("^", "the condition is empty", "write for instance"),
        ("a is yes and ^ambeint > 5 degC", "unknown reading 'ambeint'", "did you mean 'ambient'?"),
        ("^loded.duty > 5 percent", "unknown set 'loded'", "did you mean 'loaded'?"),
        ("^loaded.hgh_side > 5 psi", "unknown reading 'hgh_side'", "did you mean 'high_side'?"),
        ("^superheat > 5 K", "'superheat' belongs to a set", "baseline.superheat or loaded.superheat"),
        ("^loaded > 5 K", "'loaded' is a set", "name a reading of it"),
        ("^baseline.settled is yes", "set 'baseline' has no 'settled'", "no step with 'settle' begins it"),
        ("known ^blub", "unknown reading 'blub'", ""),
        ("frost is ^driver", "'driver' is no choice of 'frost'", "did you mean 'drier'?"),
        ("frost is none|^", "a word is missing after 'is'", ""),
        ("frost is ^not none", "'is not' is not known", "write 'not frost is WORD'"),
        ("frost is ^unknown", "'unknown' is never a choice", "write 'not known frost'"),
        ("ambient ^is high", "'ambient' is a temperature", "compare it with"),
        ("^frost > 5 psi", "'frost' is a choice, not a number", "frost is none|suction-line"),
        ("frost ^= none", "'=' has no meaning here", "NAME is WORD"),
        ("frost ^!= none", "'!=' has no meaning here", "not NAME is WORD"),
        ("a is yes ^&& b is yes", "'&&' has no meaning here", "write 'and'"),
        ("low_side > ^ambient", "'low_side' is a gauge pressure, 'ambient' is a temperature", "like with like"),
        ("low_side > ^5 degC", "that is a temperature", ""),
        ("low_side > ^20 psia", "that is an absolute pressure", ""),
        ("ambient - condenser > ^15 psi", "'15 psi'", ""),
        ("loaded.low_side - baseline.low_side > ^5 inHg vac", "'5 inHg vac'", ""),
        ("loaded.duty - baseline.duty > ^10 percent", "that is a percentage", ""),
        ("low_side > ^15", "'15' needs its unit", "write for instance 15 psi"),
        ("low_side > ^15 pound", "'15 pound'", ""),
        ("low_side > ^1e3 psi", "exponent", ""),
        ("low_side > ^1,234.5 psi", "not one plain number", ""),
        ("ambient ^- low_side > 5 K", "'ambient' is a temperature, 'low_side' is a gauge pressure", "one quantity"),
        ("^5 psi > 3 psi", "both sides are numbers", "name a reading"),
        ("low_side > 5 psi ^< 9 psi", "two comparisons in a row", "join them with 'and'"),
        ("low_side > 5 psi ^AND a is yes", "'AND' is not known", "write 'and'"),
        ("a is yes ^b is yes", "'b' is not expected here", "join tests"),
        ("loaded.low_side ^-baseline.low_side > 5 psi", "'-baseline.low_side' is not expected", "spaces round the minus"),
        ("^loaded.low_side-baseline.low_side > 5 psi", "unknown set", "spaces round the minus"),
        ("^ambient", "'ambient' is not a whole test", "a comparison with"),
        ("a is yes and ^or b is yes", "here comes a name", ""),
        ("a is yes and^", "but the condition ends", ""),
        ("known ^(a)", "after 'known' comes a name", ""),
        ("^(a is yes", "a '(' without its ')'", "close it"),
        ("a is yes^)", "a ')' without its '('", "delete it"),
        ("loaded.low_side - baseline.low_side ^is low", "only a single name goes before 'is'", ""),
    ],
)  # fmt: skip
def test_mistakes(marked: str, message: str, hint: str) -> None:
    error = error_of(marked.replace("^", ""))
    assert message in error.message
    assert hint in error.hint
    assert error.offset == marked.index("^")


def test_too_long() -> None:
    assert "501 characters" in error_of("a" * 501).message


def test_a_megabyte_is_refused_at_once() -> None:
    with Paced() as cost:
        assert "1000000 characters" in error_of("(" * 1_000_000).message
    assert cost.paces < 2


@pytest.mark.parametrize("opener", ["(", "not "])
def test_too_deep(opener: str) -> None:
    closer = ")" if opener == "(" else ""
    assert parse_condition(opener * 20 + "a is yes" + closer * 20, TABLE)
    error = error_of(opener * 21 + "a is yes" + closer * 21)
    assert "deeper than 20" in error.message
    assert error.offset == 20 * len(opener)


def test_names_that_another_error_made_unreadable_are_marked_as_secondary() -> None:
    broken = replace(TABLE, broken=frozenset({"fan"}))
    with pytest.raises(ConditionError) as caught:
        parse_condition("fan is stopped", broken)
    assert caught.value.secondary
    assert not error_of("fan is stopped").secondary


def test_a_word_of_a_watch_rule_that_is_nothing() -> None:
    assert error_of("high_sid > 5 psi", in_set=True).hint == "did you mean 'high_side'?"
