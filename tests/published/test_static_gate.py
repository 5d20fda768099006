"""The static gate against a service manual's least pressures (references.md 4c, maker withheld)."""

from __future__ import annotations

import pytest

from engine.physics.refrigerant import saturation_gauge_pressure
from engine.physics.static import least_with_liquid, static_charge

# Least static R-134a pressure to go on with a test: printed 50, 70, 100 psi gauge (345, 483, 690 kPa) above
# 16, 24, 33 degC.
LEAST_KPA = {16: 345.0, 24: 483.0, 33: 690.0}


@pytest.mark.parametrize(("celsius", "kpa"), LEAST_KPA.items())
def test_24_between_the_printed_rule_and_saturation(celsius: int, kpa: float) -> None:
    saturation = saturation_gauge_pressure("R-134a", celsius + 273.15, 101325.0)
    gate = least_with_liquid("R-134a", celsius + 273.15, 101325.0)
    assert gate <= saturation, "not stricter than saturation"
    assert gate >= kpa * 1e3, "not laxer than the printed rule"
    assert static_charge(kpa * 1e3 - 1.0, saturation, gate) in ("low", "empty")
    assert static_charge(saturation, saturation, gate) == "liquid"


# Saturation at those temperatures, kPa gauge, as computed for references.md 4c: R-134a, R-1234yf.
@pytest.mark.parametrize(("celsius", "r134a", "r1234yf"), [(16, 403, 425), (24, 544, 562), (33, 737, 748)])
def test_saturation_at_the_gate(celsius: int, r134a: int, r1234yf: int) -> None:
    for name, kpa in (("R-134a", r134a), ("R-1234yf", r1234yf)):
        found = saturation_gauge_pressure(name, celsius + 273.15, 101325.0) / 1e3
        assert found == pytest.approx(kpa, abs=1.0)
