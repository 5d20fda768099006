"""Values of the computed readings: one function a name, the names of `engine.flow.computed.names`."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from engine.flow.computed import air, band, command, contents, rest, saturation, sides, solenoid
from engine.flow.model import Facts, Value

_OF_SET: Mapping[str, Callable[[Facts, str], Value | None]] = {
    "duty": solenoid.duty,
    "duty_gap": solenoid.duty_gap,
    "estimated_current": solenoid.estimated_current,
    "volts_missing": solenoid.volts_missing,
    "condensing_temperature": saturation.condensing_temperature,
    "evaporating_temperature": saturation.evaporating_temperature,
    "condensing_over_ambient": saturation.condensing_over_ambient,
    "superheat": saturation.superheat_at("suction_line_temperature"),
    "evaporator_superheat": saturation.superheat_at("evaporator_outlet_temperature"),
    "subcooling": saturation.subcooling_at("liquid_line_temperature"),
    "condenser_subcooling": saturation.subcooling_at("condenser_outlet_temperature"),
    "discharge_superheat": saturation.discharge_superheat,
    "pressure_ratio": sides.pressure_ratio,
    "sides_apart": sides.sides_apart,
    "vent_drop": sides.vent_drop,
    "low_side_band": band.band_word("low_side"),
    "high_side_band": band.band_word("high_side"),
    "vent_band": band.band_word("vent_temperature"),
    "command_state": command.command_state,
}

_OF_JOB: Mapping[str, Callable[[Facts], Value | None]] = {
    "atmospheric_pressure": air.atmospheric_pressure,
    "ambient_dew_point": air.ambient_dew_point,
    "ambient_wet_bulb": air.ambient_wet_bulb,
    "condenser_air_rise": air.condenser_air_rise,
    "identity": contents.identity,
    "saturation_trusted": contents.saturation_trusted,
    "charge_share": contents.charge_share,
    "static_saturation": rest.static_saturation,
    "static_over_saturation": rest.static_over_saturation,
    "static_charge": rest.static_charge,
    "evaporator_sensor_gap": rest.evaporator_sensor_gap,
    "pressure_sensor_gap": rest.pressure_sensor_gap,
    "duty_by_mean_volts": solenoid.duty_by_mean_volts,
    "mean_volts_gap": solenoid.mean_volts_gap,
    "drive_class": solenoid.drive_class,
    "solenoid_resistance_20": solenoid.solenoid_resistance_20,
    "solenoid_class": solenoid.solenoid_class,
}


def compute(name: str, facts: Facts, set_name: str | None = None) -> Value | None:
    """The value of a computed reading, or None if it cannot be told; `set_name` is for scope `set`."""
    if set_name is not None:
        of_set = _OF_SET.get(name)
        return None if of_set is None else of_set(facts, set_name)
    of_job = _OF_JOB.get(name)
    return None if of_job is None else of_job(facts)
