"""Cars, faults and situations drawn over the whole envelope, by a seeded generator."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from engine.vehicle.design import Vehicle, reference, with_orifice, with_refrigerant, with_valve
from engine.vehicle.fault_effects import Effects
from engine.vehicle.situation import Situation

Draw = Callable[[random.Random], Effects]

FAULTS: dict[str, Draw] = {
    "leaking pump": lambda r: Effects(leak_area_m2=r.uniform(0.0, 4e-6)),
    "damaged pump": lambda r: Effects(
        displacement_factor=r.uniform(0.3, 1.0), friction_factor=r.uniform(1, 4)
    ),
    "stuck low": lambda r: Effects(stroke_high=r.uniform(0.03, 0.5)),
    "stuck high": lambda r: Effects(stroke_low=r.uniform(0.3, 1.0)),
    "open coil": lambda r: Effects(coil_open=True),
    "shorted turns": lambda r: Effects(coil_factor=r.uniform(0.2, 1.0)),
    "wiring": lambda r: Effects(circuit_ohm=r.uniform(0.0, 40.0)),
    "driver on": lambda r: Effects(driver_stuck_on=True),
    "withheld": lambda r: Effects(command_withheld="request"),
    "evaporator sensor": lambda r: Effects(evaporator_sensor_k=r.uniform(-8.0, 8.0)),
    "pressure sensor": lambda r: Effects(pressure_sensor_pa=r.uniform(-8e5, 8e5)),
    "slip": lambda r: Effects(drive_slip=r.uniform(0.0, 0.9)),
    "hub": lambda r: Effects(drive_broken=True),
    "undercharge": lambda r: Effects(charge_factor=r.uniform(0.0, 1.0)),
    "overcharge": lambda r: Effects(charge_factor=r.uniform(1.0, 1.6)),
    "air": lambda r: Effects(air_kg=r.uniform(0.0, 0.02)),
    "contents": lambda r: Effects(saturation_factor=r.uniform(0.9, 1.3)),
    "ice": lambda r: Effects(moisture_ice=r.uniform(0.0, 0.99)),
    "oil": lambda r: Effects(oil_factor=r.uniform(0.2, 5.0)),
    "condenser air": lambda r: Effects(
        condenser_airflow=r.uniform(0.3, 1.0), condenser_fan=r.choice((0.0, 0.5, 1.0))
    ),
    "hot air": lambda r: Effects(hot_air_share=r.uniform(0.0, 0.3)),
    "condenser tubes": lambda r: Effects(
        condenser_area=r.uniform(0.3, 1.0), condenser_resistance=r.uniform(0.0, 3e8)
    ),
    "liquid line": lambda r: Effects(liquid_resistance=10 ** r.uniform(7.0, 10.0)),
    "suction line": lambda r: Effects(suction_resistance=10 ** r.uniform(6.5, 9.0)),
    "valve shut": lambda r: Effects(opening_high=r.uniform(0.02, 1.0)),
    "valve open": lambda r: Effects(opening_low=r.uniform(0.0, 1.0)),
    "evaporator air": lambda r: Effects(evaporator_airflow=r.uniform(0.1, 1.0)),
    "frost": lambda r: Effects(frost_m=r.uniform(0.0, 0.9e-3)),
    "blend door": lambda r: Effects(blend_leak_left=r.uniform(0.0, 0.3)),
    "intake door": lambda r: Effects(intake_stuck=r.choice(("fresh", "recirculation"))),
}


def situation(draw: random.Random) -> Situation:
    """Ambient 5-48 degC, 10-95 %, sea level to 3000 m, 700-4000 1/min, any panel setting."""
    return Situation(
        ambient_k=draw.uniform(278.15, 321.15),
        relative_humidity=draw.uniform(0.10, 0.95),
        atmosphere_pa=draw.uniform(70.1e3, 101.4e3),
        engine_speed=draw.uniform(700.0, 4000.0) / 60.0,
        ac_on=draw.random() < 0.95,
        blower=draw.random(),
        intake=draw.choice(("fresh", "recirculation")),
        doors_open=draw.random() < 0.3,
        windows_open=draw.random() < 0.3,
        settled_s=draw.choice((30.0, 180.0, 600.0)),
        command=draw.choice((None, None, "minimum", "maximum")),
        condenser_wetted=draw.random() < 0.1,
        valve_head=draw.choice(["chilled", "warmed", *[""] * 8]),
        front_air_m_s=draw.choice((0.0, 0.0, 3.0, 10.0)),
        frost_m=draw.choice((0.0, 0.0, 0.0, 0.4e-3)),
    )


def vehicle(draw: random.Random) -> Vehicle:
    """Both refrigerants, all valve types, valve and orifice tube, every kind of compressor, clutch or
    none.
    """
    kind = draw.choice(("suction", "difference", "flow"))
    car = with_refrigerant(with_valve(reference(), kind), draw.choice(("R-134a", "R-1234yf")))
    if draw.random() < 0.2:
        car = with_orifice(car)
        car = replace(car, charge=replace(car.charge, label_kg=0.84))
    control = draw.choice(("solenoid",) * 6 + ("internal", "fixed"))
    compressor = replace(car.compressor, control=control, clutch=control == "fixed" or draw.random() < 0.3)
    exchanger = draw.choice((0.0, 0.0, 0.4))
    return replace(car, compressor=compressor, lines=replace(car.lines, exchanger_effectiveness=exchanger))
