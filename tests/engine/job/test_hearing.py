"""Signs heard again: only those whose readings changed."""

from __future__ import annotations

from dataclasses import replace

from engine.job.changed import changed
from engine.job.facts import Facts
from engine.job.hearing import listen
from engine.job.walk_state import Walk

from .little import flow, is_, over, sign

MADE = flow(
    signs=(
        sign("apart", over("loaded.sides_apart", 1e6), weak=(0.5, 4.0)),
        sign("turns", is_("turns", "yes"), stuck=(3.0, 1.0)),
    )
)


def test_a_sign_is_heard_anew_when_what_it_is_computed_from_changes() -> None:
    first = listen(MADE, Facts({"loaded.low_side": 3e5, "loaded.high_side": 15e5, "turns": "yes"}))
    assert first.truths == (True, True)
    assert listen(MADE, first.facts.with_value("loaded.low_side", 9e5), first).truths == (False, True)
    assert listen(MADE, first.facts.with_value("loaded.low_side", None), first).truths == (None, True)
    assert listen(MADE, first.facts.with_value("turns", "no"), first).truths == (True, False)
    assert listen(MADE, first.facts.without_set("loaded"), first).truths == (None, True)


def test_nothing_is_kept_from_a_hearing_of_another_flow() -> None:
    first = listen(MADE, Facts({"turns": "yes"}))
    other = replace(MADE, signs={"turns": sign("turns", is_("turns", "no"))})
    assert listen(other, first.facts, first).truths == (False,)


def test_only_what_changed_is_asked() -> None:
    asked: list[str] = []
    turns = is_("turns", "yes")

    def counted(look: object) -> bool | None:
        asked.append("turns")
        return turns.test(look)  # type: ignore[arg-type]

    spied = replace(MADE, signs={**MADE.signs, "turns": sign("turns", replace(turns, test=counted))})
    first = listen(spied, Facts({"turns": "yes", "loaded.low_side": 3e5}))
    listen(spied, first.facts.with_value("loaded.high_side", 15e5), first)
    assert asked == ["turns"]


def test_a_changed_walk_is_another_one() -> None:
    before = Walk(MADE, Facts())
    after = changed(before, interrupted=True)
    assert (before.interrupted, after.interrupted, after.flow) == (False, True, MADE)
    assert after == replace(before, interrupted=True)
