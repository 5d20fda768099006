"""Clocks of a session run on event times: a closed lid counts, a clock that was set back does no harm."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_SETTLE
from engine.job.events import HELD, SETTLED
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        yield opened


async def at(store: Store, step: str, item: str) -> Player:
    clock = Clock()
    player = Player(await Session.start(store, MILD_DAY, clock=clock), clock, HEALTHY)
    await player.to(step, item)
    return player


async def test_the_settle_time_runs_while_the_lid_is_closed(store: Store) -> None:
    player = await at(store, "raise", ITEM_SETTLE)  # 3 minutes in this flow
    assert player.session.settle_left(player.clock.now) == 180
    player.clock.go(100)
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.settle_left(player.clock.now) == 80
    player.clock.go(3600)
    assert again.settle_left(player.clock.now) == 0
    await again.settle(True)
    settled = store.events(1)[-1]
    assert (settled.kind, settled.detail) == (SETTLED, {"waited": 3700.0, "kept": True})


async def test_a_settle_time_cut_short_is_written_down_and_known(store: Store) -> None:
    player = await at(store, "raise", ITEM_SETTLE)
    player.clock.go(20)
    await player.session.settle(False)
    assert store.events(1)[-1].detail == {"waited": 20.0, "kept": False}
    assert player.session.walk.facts.get("loaded.settled") == "no"


async def test_a_clock_set_back_does_not_lengthen_the_wait_beyond_the_whole(store: Store) -> None:
    player = await at(store, "raise", ITEM_SETTLE)
    player.clock.now -= timedelta(hours=1)
    assert player.session.settle_left(player.clock.now) == 180
    await player.session.settle(False)
    assert store.events(1)[-1].detail["waited"] == 0.0


async def test_nothing_is_waited_for_at_other_prompts(store: Store) -> None:
    player = await at(store, "raise", ITEM_CAUTIONS)
    assert player.session.settle_left(player.clock.now) == 0
    assert player.session.set_age(player.clock.now) is None
    await player.to("raise", ITEM_BEGIN)
    assert player.session.set_age(player.clock.now) is None


async def test_a_set_open_for_over_twenty_minutes_asks_whether_it_holds(store: Store) -> None:
    player = await at(store, "raise", "low_side")
    opened = player.session.set_age(player.clock.now)
    assert opened == 180  # the settle time was kept, and the gauge is read at once
    player.clock.go(20 * 60 - opened)
    assert not player.session.needs_hold(player.clock.now)
    player.clock.go(1)
    assert player.session.needs_hold(player.clock.now)
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.needs_hold(player.clock.now)
    await again.hold()
    assert store.events(1)[-1].kind == HELD
    assert not again.needs_hold(player.clock.now)
    assert again.set_age(player.clock.now) == 0
    player.clock.go(20 * 60 + 1)
    assert again.needs_hold(player.clock.now)


async def test_a_set_taken_anew_is_new(store: Store) -> None:
    player = await at(store, "raise", "high_side")
    player.clock.go(3600)
    assert player.session.needs_hold(player.clock.now)
    player.texts = {**HEALTHY, "loaded.high_side": "410"}
    await player.step_on()  # the watch rule stops it
    player.texts = HEALTHY
    assert not player.session.needs_hold(player.clock.now)
    await player.to("raise", "low_side")  # the second visit begins the set again
    assert not player.session.needs_hold(player.clock.now)
