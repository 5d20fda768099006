"""Short names for narrow tables, of readings and computed values whose names are fixed."""

from __future__ import annotations

from collections.abc import Mapping

ROWS: Mapping[str, str] = {
    "low_side": "Low side",
    "high_side": "High side",
    "duty": "Duty",
    "duty_displayed": "Duty shown",
    "duty_gap": "Duty gap",
    "estimated_current": "Est. current",
    "command_state": "Command",
    "scan_command": "Scan command",
    "solenoid_current": "Current",
    "vent_temperature": "Vent",
    "intake_temperature": "Intake",
    "vent_drop": "Vent drop",
    "engine_speed": "Speed",
    "condensing_over_ambient": "Ov. amb.",
    "condensing_temperature": "Cond. at",
    "evaporating_temperature": "Evap. at",
    "superheat": "Superh.",
    "subcooling": "Subcool.",
    "evaporator_superheat": "SH evap.",
    "condenser_subcooling": "SC cond.",
    "discharge_superheat": "SH disch.",
    "pressure_ratio": "P ratio",
    "suction_line_temperature": "Suction",
    "liquid_line_temperature": "Liquid",
    "discharge_temperature": "Discharge",
    "condenser_outlet_temperature": "Cond. outlet",
    "evaporator_outlet_temperature": "Evap. outlet",
    "equalise_time": "Equal after",
}

FACTS: Mapping[str, str] = {
    "ambient_temperature": "ambient",
    "relative_humidity": "humidity",
    "refrigerant": "",
    "identity": "identity",
    "expansion_device": "",
    "stroke_control": "stroke",
    "solenoid_resistance_20": "solenoid at 20 °C",
    "solenoid_class": "reads as",
    "static_charge": "at rest",
    "high_side_limit": "high limit",
}

UNITS: Mapping[str, str] = {"degF": "°F", "degC": "°C", "percent": "%", "1/min": "/min"}
