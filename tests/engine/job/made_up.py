"""A made-up job walked through a session: a clock the test moves, and answers by prompt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from engine.flow.library import Source
from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE
from engine.job.session import Session

FOLDER = Path(__file__).parent / "flows"
MILD_DAY = Source("mild_day", FOLDER / "mild_day.yaml")
BEGAN = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@dataclass
class Clock:
    """Stands still until it is moved."""

    now: datetime = BEGAN

    def __call__(self) -> datetime:
        return self.now

    def go(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)


@dataclass
class Player:
    """Answers prompts from `texts` by full name; what is not there cannot be measured."""

    session: Session
    clock: Clock
    texts: Mapping[str, str] = field(default_factory=dict)

    async def step_on(self) -> None:
        """Answer the present prompt; half a minute passes before, and a settle time is waited for."""
        walk = self.session.walk
        assert walk.prompt is not None
        self.clock.go(30)
        match walk.prompt.item:
            case item if item == ITEM_CAUTIONS:
                await self.session.acknowledge()
            case item if item == ITEM_BEGIN:
                await self.session.begin_set()
            case item if item == ITEM_SETTLE:
                self.clock.go(self.session.settle_left(self.clock.now))
                await self.session.settle(True)
            case item if item == ITEM_DONE:
                await self.session.done()
            case item:
                text = self.texts.get(walk.full_name(item))
                if text is None:
                    await self.session.cannot_measure()
                else:
                    reading = walk.reading
                    assert reading is not None
                    await self.session.answer(text, reading.unit)

    async def to(self, step: str, item: str) -> None:
        """Go on to that prompt."""
        while self.session.walk.prompt is None or self.session.walk.prompt.key[::2] != (step, item):
            await self.step_on()

    async def finish(self) -> None:
        """Go on to the end."""
        while self.session.walk.prompt is not None:
            await self.step_on()


HEALTHY = {
    "refrigerant": "R-134a",
    "ambient_temperature": "25",
    "contamination": "none",
    "meter_leads": "across-coil",
    "meter_edge": "positive",
    "switched_side": "ground",
    "baseline.low_side": "35",
    "baseline.high_side": "150",
    "baseline.duty": "50",
    "baseline.duty_displayed": "42 %",
    "loaded.low_side": "34",
    "loaded.high_side": "190 psi",
    "loaded.vent_temperature": "9",
    "recovered_charge": "500",
    "label_charge": "510",
}
