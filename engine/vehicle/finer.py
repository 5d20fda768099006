"""Findings that are finer than a fault: a flow that parts a fault by how it came about has names of its own.

A flow about one circuit may conclude which wire it is where another says that it is the circuit. The vehicle
has one fault, with a way (`fault_shapes.WAYS`); here stands which finding means which of its ways. Add a line
for a finding of a new flow; where the vehicle cannot have what a finding says, no line helps.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

__all__ = ["ANY_FAULT", "FINER", "Finer", "fault_of", "finer_names"]


@dataclass(frozen=True, slots=True)
class Finer:
    """A fault, and those of its ways that the finding means; none = all, it is another name for the fault."""

    fault: str
    ways: tuple[str, ...] = ()


FINER: Mapping[str, Finer] = MappingProxyType(
    {
        "solenoid-supply-lost": Finer("solenoid-circuit", ("supply",)),
        "solenoid-wire-resistance": Finer("solenoid-circuit", ("resistance",)),
        "solenoid-driver-stuck-on": Finer("solenoid-circuit", ("stuck-on",)),
        "solenoid-coil-to-case": Finer("solenoid-shorted", ("case",)),
        "condenser-fan-fails": Finer("condenser-airflow", ("fan",)),
        "condenser-face-blocked": Finer("condenser-airflow", ("face",)),
        "condenser-baffles-missing": Finer("condenser-airflow", ("baffles",)),
        "cabin-filter-blocked": Finer("evaporator-airflow", ("filter",)),
        "blower-weak": Finer("evaporator-airflow", ("blower",)),
        "evaporator-face-blocked": Finer("evaporator-airflow", ("coil-face",)),
        "air-doors-stuck": Finer("air-distribution", ("left-doors", "right-doors")),
        "heat-past-blend-door": Finer("air-distribution", ("left", "right", "both")),
        "flammable-contents": Finer("contaminated-refrigerant", ("hydrocarbon",)),
        "sealant-inside": Finer("contaminated-refrigerant", ("sealant",)),
        "compressor-locked": Finer("compressor-damaged", ("locked",)),
    }
)
"""By finding."""

ANY_FAULT = frozenset({"not-verified"})
"""Findings that say that something is wrong and leave open what: right for a vehicle with any fault."""


def fault_of(finding: str) -> str:
    """The fault of the vehicle that a finding means; itself where it is one, or unknown."""
    return FINER[finding].fault if finding in FINER else finding


def finer_names(fault: str, way: str) -> frozenset[str]:
    """The finer findings that are right for a fault that came about so."""
    return frozenset(
        name for name, one in FINER.items() if one.fault == fault and (not one.ways or way in one.ways)
    )
