"""The names of computed readings: what a condition may ask for beside what was typed.

This module describes and computes nothing, so that checking a flow needs no property tables;
`engine.flow.computed.values` holds the functions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from engine.physics.quantity import Kind

Scope = Literal["set", "job"]

LEVELS = ("low", "normal", "high")
YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Computed:
    """One computed reading; either `kind` (a quantity) or `choices` (words) is set.

    Scope `set` is named with its set (`loaded.superheat`), scope `job` alone (`static_charge`). `needs` are
    the readings a flow asks before it uses the value; `uses` those that may serve, among others or as a
    refinement. In both, a leading dot means the same set (`.high_side`), a name with its set that set
    (`static.low_side`), and a bare name a reading of the job.
    """

    name: str
    scope: Scope
    label: str
    kind: Kind | None = None
    choices: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()

    def full_needs(self, set_name: str | None = None) -> tuple[str, ...]:
        """`needs` as full names; `set_name` is required for scope `set`."""
        return tuple(_full(self.needs, set_name))

    def full_uses(self, set_name: str | None = None) -> tuple[str, ...]:
        """`uses` as full names; `set_name` is required for scope `set`."""
        return tuple(_full(self.uses, set_name))


def _full(names: Iterable[str], set_name: str | None) -> Iterator[str]:
    for name in names:
        if not name.startswith("."):
            yield name
        elif set_name is None:
            raise ValueError(f"'{name[1:]}' belongs to a set: name the set it is asked for.")
        else:
            yield set_name + name


_ATMOSPHERE = ("elevation", "barometric_pressure")
_CONTENTS = ("contamination", "refrigerant_purity")
_AT_PRESSURE = (*_ATMOSPHERE, *_CONTENTS)
_AT_REST = ("contact_temperature", "ambient_temperature", *_AT_PRESSURE)
_METER = (
    ".duty_displayed",
    "meter_leads",
    "meter_edge",
    "switched_side",
    "display_ac_off",
    "display_max_cold",
)
_COMMAND = (
    ".scan_command",
    ".solenoid_current",
    "solenoid_current_limit",
    ".duty",
    *_METER,
    *(
        f"{set_name}.{reading}"
        for set_name in ("unloaded", "baseline", "loaded")
        for reading in ("duty", "duty_displayed", "intake_temperature")
    ),
)
_BAND = (*_AT_PRESSURE, "relative_humidity", ".engine_speed", *_COMMAND)


def _of_set(
    name: str, label: str, what: Kind | tuple[str, ...], needs: str, uses: tuple[str, ...]
) -> Computed:
    return _computed(name, "set", label, what, needs, uses)


def _of_job(
    name: str, label: str, what: Kind | tuple[str, ...], needs: str = "", uses: tuple[str, ...] = ()
) -> Computed:
    return _computed(name, "job", label, what, needs, uses)


def _computed(
    name: str, scope: Scope, label: str, what: Kind | tuple[str, ...], needs: str, uses: tuple[str, ...]
) -> Computed:
    required = tuple(needs.split())
    if isinstance(what, Kind):
        return Computed(name, scope, label, kind=what, needs=required, uses=uses)
    return Computed(name, scope, label, choices=what, needs=required, uses=uses)


_SET = (
    _of_set("duty", "Commanded duty", Kind.RATIO, "", _METER),
    _of_set(
        "duty_gap", "Duty given less duty displayed", Kind.RATIO_DIFFERENCE, ".duty .duty_displayed", _METER
    ),
    _of_set(
        "estimated_current",
        "Current, estimate only",
        Kind.CURRENT,
        "solenoid_supply solenoid_resistance",
        (".solenoid_current", "lead_resistance", "coil_temperature", ".duty", *_METER),
    ),
    _of_set(
        "volts_missing",
        "Volts missing at the coil",
        Kind.VOLTAGE,
        ".mean_volts battery_running",
        (".duty", *_METER),
    ),
    _of_set("condensing_temperature", "Condensing", Kind.TEMPERATURE, ".high_side refrigerant", _AT_PRESSURE),
    _of_set(
        "evaporating_temperature", "Evaporating", Kind.TEMPERATURE, ".low_side refrigerant", _AT_PRESSURE
    ),
    _of_set(
        "condensing_over_ambient",
        "Condensing over ambient",
        Kind.TEMPERATURE_DIFFERENCE,
        ".high_side refrigerant",
        ("condenser_air_temperature", "ambient_temperature", *_AT_PRESSURE),
    ),
    _of_set(
        "superheat",
        "Superheat at the compressor",
        Kind.TEMPERATURE_DIFFERENCE,
        ".low_side .suction_line_temperature refrigerant",
        _AT_PRESSURE,
    ),
    _of_set(
        "evaporator_superheat",
        "Superheat at the evaporator",
        Kind.TEMPERATURE_DIFFERENCE,
        ".low_side .evaporator_outlet_temperature refrigerant",
        _AT_PRESSURE,
    ),
    _of_set(
        "subcooling",
        "Subcooling in the liquid line",
        Kind.TEMPERATURE_DIFFERENCE,
        ".high_side .liquid_line_temperature refrigerant",
        _AT_PRESSURE,
    ),
    _of_set(
        "condenser_subcooling",
        "Subcooling at the condenser",
        Kind.TEMPERATURE_DIFFERENCE,
        ".high_side .condenser_outlet_temperature refrigerant",
        _AT_PRESSURE,
    ),
    _of_set(
        "discharge_superheat",
        "Superheat at the discharge",
        Kind.TEMPERATURE_DIFFERENCE,
        ".high_side .discharge_temperature refrigerant",
        _AT_PRESSURE,
    ),
    _of_set("pressure_ratio", "Pressure ratio", Kind.NUMBER, ".high_side .low_side", _ATMOSPHERE),
    _of_set("sides_apart", "High side less low side", Kind.PRESSURE_DIFFERENCE, ".high_side .low_side", ()),
    _of_set(
        "vent_drop",
        "Intake less vent",
        Kind.TEMPERATURE_DIFFERENCE,
        ".intake_temperature .vent_temperature",
        (),
    ),
    _of_set("low_side_band", "Low side", LEVELS, ".low_side refrigerant ambient_temperature", _BAND),
    _of_set("high_side_band", "High side", LEVELS, ".high_side refrigerant ambient_temperature", _BAND),
    _of_set(
        "vent_band",
        "Vent",
        LEVELS,
        ".vent_temperature refrigerant ambient_temperature",
        (".intake_temperature", *_BAND),
    ),
    _of_set("command_state", "Command", ("minimum", "part", "ceiling"), "", _COMMAND),
    _of_set("settled", "Settle time kept", YES_NO, "", ()),
)

_JOB = (
    _of_job("atmospheric_pressure", "Atmosphere", Kind.ABSOLUTE_PRESSURE, uses=_ATMOSPHERE),
    _of_job(
        "ambient_dew_point",
        "Dew point outside",
        Kind.TEMPERATURE,
        "ambient_temperature relative_humidity",
        _ATMOSPHERE,
    ),
    _of_job(
        "ambient_wet_bulb",
        "Wet bulb outside",
        Kind.TEMPERATURE,
        "ambient_temperature relative_humidity",
        _ATMOSPHERE,
    ),
    _of_job(
        "condenser_air_rise",
        "Air at the condenser over ambient",
        Kind.TEMPERATURE_DIFFERENCE,
        "condenser_air_temperature ambient_temperature",
    ),
    _of_job(
        "identity", "Identity of the refrigerant", ("proved", "assumed", "wrong"), "refrigerant", _CONTENTS
    ),
    _of_job("saturation_trusted", "Saturation may give a verdict", YES_NO, "refrigerant", _CONTENTS),
    _of_job("charge_share", "Charge recovered of the label's", Kind.RATIO, "recovered_charge label_charge"),
    _of_job(
        "static_saturation",
        "Saturation at rest",
        Kind.PRESSURE,
        "refrigerant",
        _AT_REST,
    ),
    _of_job(
        "static_over_saturation",
        "At rest over saturation",
        Kind.PRESSURE_DIFFERENCE,
        "refrigerant soaked",
        ("static.low_side", "static.high_side", *_AT_REST),
    ),
    _of_job(
        "static_charge",
        "Charge by the pressure at rest",
        ("empty", "low", "liquid", "above"),
        "refrigerant",
        ("soaked", "static.low_side", "static.high_side", *_AT_REST),
    ),
    _of_job(
        "evaporator_sensor_gap",
        "Evaporator sensor less ambient, soaked",
        Kind.TEMPERATURE_DIFFERENCE,
        "evaporator_sensor ambient_temperature soaked",
    ),
    _of_job(
        "pressure_sensor_gap",
        "Pressure sensor less gauge, at rest",
        Kind.PRESSURE_DIFFERENCE,
        "pressure_sensor static.high_side",
    ),
    _of_job(
        "solenoid_resistance_20",
        "Solenoid at 20 degC",
        Kind.RESISTANCE,
        "solenoid_resistance",
        ("coil_temperature", "lead_resistance"),
    ),
    _of_job("duty_by_mean_volts", "Duty by mean volts", Kind.RATIO, "mean_volts solenoid_supply"),
    _of_job(
        "mean_volts_gap",
        "Duty by mean volts less duty displayed",
        Kind.RATIO_DIFFERENCE,
        "mean_volts solenoid_supply display_max_cold meter_leads meter_edge switched_side",
    ),
    _of_job("drive_class", "Drive frequency", ("usual", "suspect-wire"), "solenoid_frequency"),
    _of_job(
        "solenoid_class",
        "What was measured",
        (
            "stroke-coil",
            "clutch-coil",
            "closed-switch",
            "sensor",
            "open",
            "short",
            "to-case",
            "unclear",
        ),
        "solenoid_resistance",
        ("coil_temperature", "lead_resistance", "solenoid_to_case", "rear_connector"),
    ),
)

COMPUTED: Mapping[str, Computed] = {entry.name: entry for entry in (*_SET, *_JOB)}
"""Every computed reading by its bare name."""


def find_computed(full_name: str) -> tuple[Computed, str | None] | None:
    """The computed reading behind a full name and the set it is asked for, or None if there is none.

    >>> found = find_computed("loaded.superheat")
    >>> found and (found[0].name, found[1])
    ('superheat', 'loaded')
    """
    set_name, dot, bare = full_name.rpartition(".")
    entry = COMPUTED.get(bare)
    if entry is None or (entry.scope == "set") is not bool(dot):
        return None
    return entry, set_name or None
