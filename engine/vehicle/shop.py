"""The shop and whoever works in it: tools at hand, care taken. As drawn; every share is our assumption."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

__all__ = ["EQUIPPED", "MODEST", "Shop", "Shops"]


@dataclass(frozen=True, slots=True)
class Shop:
    """What is at hand, and how meter and eyes are used. `hasty`: chance that a settle time is cut short."""

    scan_tool: bool
    duty_meter: bool
    current_clamp: bool
    service_data: bool
    certified: bool
    identifier: bool
    tachometer: bool
    history_known: bool
    leads: str
    edge: str
    lead_ohm: float
    hasty: float
    eyes: float
    """Chance to see what is there to be seen, over an average person's (1)."""
    labelled: bool = False
    """Limits for a test on both sides are known here, from a label or the maker's data. Without them the
    high-side limit is the switch's, and a low one is hardly ever known."""


@dataclass(frozen=True, slots=True)
class Shops:
    """Chances by which a shop is drawn."""

    scan_tool: float = 0.88
    duty_meter: float = 0.85
    current_clamp: float = 0.50
    service_data: float = 0.85
    certified: float = 0.85
    identifier: float = 0.95
    """Machines for R-1234yf carry one by standard (SAE J2843); others mostly do."""
    tachometer: float = 0.75
    history_known: float = 0.90
    hasty: float = 0.05
    labelled: float = 0.30

    def draw(self, chance: Random) -> Shop:
        """One shop."""
        has = chance.random
        return Shop(
            scan_tool=has() < self.scan_tool,
            duty_meter=has() < self.duty_meter,
            current_clamp=has() < self.current_clamp,
            service_data=has() < self.service_data,
            certified=has() < self.certified,
            identifier=has() < self.identifier,
            tachometer=has() < self.tachometer,
            history_known=has() < self.history_known,
            leads=chance.choice(("wire-to-ground", "wire-to-ground", "across-coil", "wire-to-supply")),
            edge=chance.choice(("positive", "positive", "negative")),
            lead_ohm=chance.uniform(0.1, 0.4),
            hasty=self.hasty,
            eyes=chance.uniform(0.92, 1.05),
            labelled=has() < self.labelled,
        )


EQUIPPED = Shops()
MODEST = Shops(0.80, 0.75, 0.35, 0.75, 0.75, 0.93, 0.6, 0.85, 0.08)
"""The shifted fleet's shops have less and wait less."""
