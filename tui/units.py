"""Which units the person reads: one frozen value, handed to whoever shows a number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.physics.quantity import Kind, show, units_of

if TYPE_CHECKING:
    from engine.flow.model import Reading

_CHOICES: Mapping[str, Mapping[Kind, str]] = {
    "psi degF": {
        Kind.PRESSURE: "psi",
        Kind.ABSOLUTE_PRESSURE: "psia",
        Kind.PRESSURE_DIFFERENCE: "psi",
        Kind.TEMPERATURE: "degF",
        Kind.TEMPERATURE_DIFFERENCE: "degF",
        Kind.MASS: "oz",
        Kind.LENGTH: "ft",
    },
    "kPa degC": {
        Kind.PRESSURE: "kPa",
        Kind.ABSOLUTE_PRESSURE: "kPaa",
        Kind.PRESSURE_DIFFERENCE: "kPa",
        Kind.TEMPERATURE: "degC",
        Kind.TEMPERATURE_DIFFERENCE: "K",
        Kind.MASS: "g",
        Kind.LENGTH: "m",
    },
    "bar degC": {
        Kind.PRESSURE: "bar",
        Kind.ABSOLUTE_PRESSURE: "bara",
        Kind.PRESSURE_DIFFERENCE: "bar",
        Kind.TEMPERATURE: "degC",
        Kind.TEMPERATURE_DIFFERENCE: "K",
        Kind.MASS: "g",
        Kind.LENGTH: "m",
    },
}

NAMES = tuple(_CHOICES)


@dataclass(frozen=True, slots=True)
class Units:
    """A choice of display units, named by its pressure and temperature (one of NAMES)."""

    name: str = NAMES[0]

    def __post_init__(self) -> None:
        if self.name not in _CHOICES:
            raise ValueError(f"no units called {self.name!r}; use one of {', '.join(NAMES)}")

    def unit(self, kind: Kind) -> str:
        """The unit that values of `kind` are shown in, and that a bare number is read in."""
        return _CHOICES[self.name].get(kind) or units_of(kind)[0]

    def entry_unit(self, reading: Reading) -> str:
        """The unit a bare number takes for `reading`: chosen here, else its flow's; empty for choices."""
        if reading.kind is None:
            return ""
        return _CHOICES[self.name].get(reading.kind) or reading.unit or units_of(reading.kind)[0]

    def show(self, si: float, kind: Kind) -> str:
        """An SI value as text with its unit: `41 psi`."""
        return show(si, kind, self.unit(kind))

    def show_entry(self, si: float, reading: Reading) -> str:
        """A value of `reading` as text, in the unit that its entry takes."""
        return show(si, reading.kind, self.entry_unit(reading)) if reading.kind is not None else ""

    def next(self) -> Units:
        """The choice after this one, round and round."""
        return Units(NAMES[(NAMES.index(self.name) + 1) % len(NAMES)])
