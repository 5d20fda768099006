"""Readings of the job that are asked, read off or known: complaint, history, tools, the day, the kind of car.

The chances are our assumption: no published figures on what customers tell and labels show were found.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from engine.vehicle.bench import Bench, Measured, Told

__all__ = ["JOB_FACTS", "filter_blocked"]

Rule = Callable[[Bench], Told]

_SOAKED_K = 2.0  # source of the criterion: procedure, common practice
_PANEL = 0.67
_LABELLED_HIGH = (0.98, 0.995)  # of the back-off
_LABELLED_LOW_PA = (0.0, 48e3)  # gauge, up to 7 psi; a sound car at full command stays over 11 psi


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _complaint(bench: Bench) -> Told:
    if bench.effects.noisy and bench.happens("complaint:noise", 0.8):
        return "noise"
    if bench.has("moisture-freezing") or bench.has("evaporator-icing"):
        return "sometimes-cold" if bench.happens("complaint:fades", 0.75) else "not-cold"
    if not bench.injuries:
        drawn = bench.chance("complaint").random()
        return "check-only" if drawn < 0.5 else "not-cold" if drawn < 0.85 else "sometimes-cold"
    return "not-cold" if bench.happens("complaint", 0.85) else "sometimes-cold"


_EARLIER: Mapping[str, tuple[tuple[str, float], ...]] = MappingProxyType(
    {
        "overcharge": (("filled", 0.65), ("part-replaced", 0.10)),
        "air-in-system": (("filled", 0.45), ("part-replaced", 0.25)),
        "oil-excess": (("part-replaced", 0.55), ("filled", 0.25)),
        "contaminated-refrigerant": (("filled", 0.60),),
        "undercharge": (("filled", 0.30), ("crash-repair", 0.06)),
        "system-empty": (("filled", 0.20), ("crash-repair", 0.10)),
        "moisture-freezing": (("part-replaced", 0.30), ("filled", 0.30)),
        "condenser-restricted": (("part-replaced", 0.35), ("crash-repair", 0.15)),
        "liquid-restriction": (("part-replaced", 0.20),),
        "condenser-airflow": (("crash-repair", 0.12),),
    }
)
_EARLIER_ANY = (("filled", 0.12), ("part-replaced", 0.07), ("crash-repair", 0.03))


def _earlier_work(bench: Bench) -> Told:
    found = [work for work, odds in _EARLIER_ANY if bench.happens(f"earlier:{work}", odds)]
    for injury in bench.injuries:
        for work, odds in _EARLIER.get(injury.finding, ()):
            if bench.happens(f"earlier:{injury.finding}:{work}", odds):
                found.append(work)
    if bench.way("contaminated-refrigerant") == "sealant" and bench.happens("earlier:sealant", 0.5):
        found.append("sealant-added")
    if not bench.shop.history_known:
        found = [work for work in found if bench.sees(f"traces:{work}", 0.4)]
        return ", ".join(dict.fromkeys(found)) or None
    return ", ".join(dict.fromkeys(found)) or "none"


def _codes(bench: Bench) -> Told:
    """Thresholds and chances by which control units store codes; our assumption."""
    if not bench.shop.scan_tool:
        return None
    e, found = bench.effects, []
    circuit = e.coil_open or e.coil_shorted or e.coil_to_case or e.supply_lost or e.driver_stuck_on
    if (circuit or e.circuit_ohm > 20.0) and bench.happens("code:circuit", 0.75):
        found.append("circuit")
    if e.clutch_open and bench.way("clutch-circuit") != "gap" and bench.happens("code:clutch", 0.5):
        found.append("circuit")
    low_charge = e.charge_factor < 0.5 and bench.happens("code:charge", 0.5)
    if low_charge or (e.command_withheld == "low-charge-code" and bench.happens("code:charge", 0.9)):
        found.append("charge")
    if abs(e.pressure_sensor_pa) > 0.4e6 and bench.happens("code:pressure", 0.4):
        found.append("pressure")
    if max(abs(e.evaporator_sensor_k), abs(e.ambient_sensor_k)) > 8.0 and bench.happens("code:sensor", 0.35):
        found.append("sensor")
    other = 0.4 if e.command_withheld in ("coolant", "voltage", "throttle") else 0.05
    if bench.happens("code:other", other):
        found.append("other")
    return ", ".join(dict.fromkeys(found)) or "none"


def _panel(bench: Bench) -> Told:
    """Of those whose cooling is not requested two of three have the panel so; the rest lies behind it."""
    unasked = bench.effects.command_withheld == "request" and bench.happens("panel", _PANEL)
    return "something-else" if unasked else "asks-for-cold"


def _cold_after_setting(bench: Bench) -> Told:
    """Asked for rightly, a car without another fault cools."""
    return _yes(_panel(bench) == "something-else" and len(bench.injuries) == 1)


def _oil_stains(bench: Bench) -> Told:
    leaking = bench.has("undercharge") or bench.has("system-empty")
    return "some" if bench.sees("oil stains", 0.55 if leaking else 0.10) else "none"


def _belt(bench: Bench) -> Told:
    if bench.way("drive-broken") == "belt":
        return "missing"
    if bench.effects.drive_slip > 0.0 and bench.sees("belt", 0.55):
        return "worn" if bench.happens("belt:worn", 0.5) else "loose"
    return "worn" if bench.happens("belt:aged", 0.05) else "good"


def filter_blocked(bench: Bench) -> bool:
    """Whether the cabin filter is what takes the evaporator its air."""
    return bench.way("evaporator-airflow") == "filter" or bench.effects.icing_cause == "evaporator-airflow"


def _filter(bench: Bench) -> Told:
    if filter_blocked(bench):
        return "dirty" if bench.sees("filter", 0.93) else "clean"
    drawn = bench.chance("filter:any").random()
    return "dirty" if drawn < 0.10 else "missing" if drawn < 0.15 else "clean"


def _elevation(bench: Bench) -> Told:
    return Measured("map", bench.weather.elevation_m) if bench.happens("elevation", 0.93) else None


def _label_charge(bench: Bench) -> Told:
    if not bench.shop.service_data and not bench.happens("label", 0.85):
        return None
    return Measured("label", bench.vehicle.charge.label_kg)


def _label_original(bench: Bench) -> Told:
    return _yes(bench.happens("label:original", 0.75 if bench.has("contaminated-refrigerant") else 0.97))


def _fittings(bench: Bench) -> Told:
    """A foreign gas mostly came in through an adapter; on a car never changed one is seen by mistake."""
    foreign = bench.way("contaminated-refrigerant") in ("hydrocarbon", "other-refrigerant")
    return "adapter" if bench.sees("fittings", 0.35 if foreign else 0.01) else "own-kind"


def _soak_gap(bench: Bench) -> float:
    return bench.state(bench.resting).condensing_k - bench.weather.ambient_k


def _contact(bench: Bench) -> Told:
    return Measured("contact probe", bench.state(bench.resting).condensing_k)


def _expansion(bench: Bench) -> Told:
    return "orifice-tube" if bench.vehicle.orifice else "valve"


def _valve_type(bench: Bench) -> Told:
    known = bench.shop.service_data and bench.happens("valve type", 0.5)
    return bench.vehicle.valve.kind if known else None


def _rear(bench: Bench) -> Told:
    if bench.vehicle.compressor.control != "solenoid":
        return "none"
    return "two-wire" if bench.vehicle.electrics.two_wire else "one-wire"


def _side(bench: Bench) -> Told:
    known = bench.shop.service_data or bench.happens("switched side", 0.6)
    return bench.vehicle.electrics.switched_side if known else None


def _high_limit(bench: Bench) -> Told:
    """A limit for a test lies just under what the control itself holds, or nobody would meet it."""
    part = bench.vehicle.controller
    if bench.shop.labelled:
        return Measured(
            "data pressure", part.back_off_pa * bench.chance("limit:high").uniform(*_LABELLED_HIGH)
        )
    return Measured("data pressure", part.cut_out_high_pa) if bench.shop.service_data else None


def _low_limit(bench: Bench) -> Told:
    """Few cars with a variable stroke have a low-pressure cut-out on the suction side."""
    if bench.shop.labelled:
        return Measured("data pressure", bench.chance("limit:low").uniform(*_LABELLED_LOW_PA))
    if not bench.shop.service_data or not bench.happens("low limit", 0.2):
        return None
    return Measured("data pressure", bench.chance("low limit:figure").uniform(-50e3, -15e3))


def _current_limit(bench: Bench) -> Told:
    limit = bench.vehicle.valve.current_max_a
    return Measured("data current", limit) if bench.shop.service_data else None


def _cycling_switch(bench: Bench) -> Told:
    """What opens the clutch on a cold evaporator, by the diagram or by following the clutch's wire."""
    part = bench.vehicle.controller
    if part.cycling_by == "sensor" or not (bench.shop.service_data or bench.happens("cycling switch", 0.85)):
        return None
    return part.cycling_by


def _switch_data(name: str) -> Rule:
    def told(bench: Bench) -> Told:
        part = bench.vehicle.controller
        known = (
            bench.shop.service_data and part.cycling_by == "pressure" and bench.happens("switch data", 0.8)
        )
        return Measured("data pressure", getattr(part, name)) if known else None

    return told


JOB_FACTS: Mapping[str, Rule] = MappingProxyType(
    {
        "complaint": _complaint,
        "history_known": lambda bench: _yes(bench.shop.history_known),
        "earlier_work": _earlier_work,
        "stored_codes": _codes,
        "panel_setting": _panel,
        "cold_after_setting": _cold_after_setting,
        "oil_stains": _oil_stains,
        "belt_condition": _belt,
        "cabin_filter": _filter,
        "scan_tool": lambda bench: _yes(bench.shop.scan_tool),
        "duty_meter": lambda bench: _yes(bench.shop.duty_meter),
        "current_clamp": lambda bench: _yes(bench.shop.current_clamp),
        "service_data": lambda bench: _yes(bench.shop.service_data),
        "certified_and_equipped": lambda bench: _yes(bench.shop.certified),
        "ambient_temperature": lambda bench: Measured("weather probe", bench.weather.ambient_k),
        "relative_humidity": lambda bench: Measured("hygrometer", bench.weather.relative_humidity),
        "elevation": _elevation,
        "barometric_pressure": lambda bench: (
            Measured("barometer", bench.weather.atmosphere_pa) if bench.happens("barometer", 0.5) else None
        ),
        "drive": lambda _: "belt",
        "refrigerant": lambda bench: bench.vehicle.refrigerant,
        "label_original": _label_original,
        "fittings": _fittings,
        "label_charge": _label_charge,
        "single_port": lambda _: "no",
        "gauge_zero": lambda _: "yes",
        "soaked": lambda bench: _yes(_soak_gap(bench) < _SOAKED_K),
        "contact_temperature": _contact,
        "warmer_air": lambda _: "outside",
        "stroke_control": lambda bench: bench.vehicle.compressor.control,
        "clutch": lambda bench: "clutch" if bench.vehicle.compressor.clutch else "clutchless",
        "expansion_device": _expansion,
        "internal_heat_exchanger": lambda bench: _yes(bench.vehicle.lines.exchanger_effectiveness > 0.0),
        "valve_type": _valve_type,
        "cycling_switch": _cycling_switch,
        "switch_opens_at": _switch_data("switch_open_pa"),
        "switch_closes_at": _switch_data("switch_close_pa"),
        "rear_connector": _rear,
        "switched_side": _side,
        "high_side_limit": _high_limit,
        "low_side_limit": _low_limit,
        "solenoid_current_limit": _current_limit,
        "meter_leads": lambda bench: bench.shop.leads if bench.shop.duty_meter else None,
        "meter_edge": lambda bench: bench.shop.edge if bench.shop.duty_meter else None,
    }
)
"""By reading. A single port and an unzeroed gauge are not drawn; contents are never carbon dioxide or a
hybrid's.
"""
