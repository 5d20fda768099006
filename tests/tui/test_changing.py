"""Ctrl+T: an earlier reading given anew, and what was known from the flow before."""

from __future__ import annotations

from engine.job.events import WITHDRAWN
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import Clock, Player
from tests.engine.job.test_handing import TEXTS, TRIAGE
from tests.tui.reading import sentences
from tests.tui.walking import person
from tui.changing import offered


async def test_a_reading_is_given_anew_and_the_answers_after_it_stay(store: Store) -> None:
    async with person(store) as someone:
        await someone.to_baseline()
        at = someone.at
        await someone.press("ctrl+t")
        assert await someone.sees("Which reading is to be given anew?")
        assert "Ambient" in someone.seen
        assert "77 degF" in someone.seen
        await someone.press("1")  # the one that was read last
        assert await someone.sees("77")
        assert someone.at != at
        assert someone.events[-1].kind == WITHDRAWN
        for _ in range(3):
            await someone.press("backspace")
        await someone.enter("80")
        assert someone.at == at


async def test_nothing_read_yet(store: Store) -> None:
    async with person(store) as someone:
        await someone.press("ctrl+t")
        assert await someone.sees("Nothing was read yet.")


async def test_what_is_known_from_the_flow_before_is_shown_and_comes_first(store: Store) -> None:
    clock = Clock()
    session = await Session.start(store, TRIAGE, clock=clock)
    await Player(session, clock, TEXTS).to("charge/gas", "refrigerant")
    assert offered(session.walk)[0] == ("hear", 1, "warm")
    async with person(store, job=session.job) as someone:
        assert "Known from before Vent is warm" in " ".join(someone.card.split())
        await someone.press("ctrl+t")
        assert await someone.sees("Low side (Triage load): 12 psi")  # as the flow that asked it calls it
        await someone.press("1")
        assert await someone.sees("Hear it")
        assert someone.at == ("hear", 1, "warm")
        assert "Not cold?" in sentences(someone.app)
