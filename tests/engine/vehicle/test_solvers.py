"""The quick, the bracketed and the slow way of settling agree; the slow one is not for leaking pumps."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from engine.vehicle.by_stroke import ByStroke
from engine.vehicle.circuit import Circuit
from engine.vehicle.condenser import Face
from engine.vehicle.controller import running_limits
from engine.vehicle.design import reference, with_orifice, with_valve
from engine.vehicle.evaporator import Coil
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.joint import Joint
from engine.vehicle.loop import settle
from engine.vehicle.settling import Settling
from engine.vehicle.situation import Situation

WAYS = ("joint", "bracketed", "by stroke")
EFFECTS = (NONE, Effects(leak_area_m2=2e-6), Effects(charge_factor=0.6), Effects(opening_high=0.3))


def fresh(effects: Effects, draw: random.Random) -> Settling:
    car = with_valve(reference(), draw.choice(("suction", "difference", "flow")))
    ambient_k = draw.uniform(290.0, 306.0)
    face = Face(
        car.condenser, ambient_k, 1.0,
        fan=1.0, airflow=1.0, front_air_m_s=0.0, hot_share=0.0, area=1.0, wetted=False,
    )  # fmt: skip
    coil = Coil(car.evaporator, draw.uniform(0.04, 0.13), 0.0, 101325.0, 1.0)
    coil.breathe(draw.uniform(293.0, 306.0), draw.uniform(0.004, 0.014))
    situation = Situation(ambient_k)
    limits = running_limits(car, effects, situation, 1.0, asked=True)
    return Settling(Circuit(car, effects, situation, coil, face), limits, car.valve)


@pytest.mark.parametrize("number", range(24))
def test_they_agree(number: int) -> None:
    effects = EFFECTS[number % len(EFFECTS)]
    places = []
    for way in WAYS[: 2 if effects.leak_area_m2 else 3]:
        settling = fresh(effects, random.Random(f"solvers:{number}"))
        circuit = settling.circuit
        if way == "joint":
            active = Joint(settling).solve(281.0)
        elif way == "bracketed":
            active = settling.solve(281.0)
        else:
            active = ByStroke(circuit, settling.limits, settling.beyond).solve()
        assert active is not None
        places.append((circuit.coil.surface_k, circuit.condensing_k, 1e3 * circuit.flow))
    for other in places[1:]:
        assert other == pytest.approx(places[0], abs=0.03)


def test_an_orifice_car_between_a_dry_and_a_wet_coil_settles_where_the_control_holds_it() -> None:
    """Fan stopped, hot and damp at idle: the command is taken back until the high side stands at its limit,
    with a coil just run wet, where full steps of the quick way go to and fro."""
    car = with_orifice(reference())
    car = replace(car, charge=replace(car.charge, label_kg=0.84))
    stopped = Effects(condenser_airflow=0.955, condenser_fan=0.0)
    state = settle(car, stopped, Situation(308.22, 0.6706, engine_speed=13.3, blower=1.0))
    assert state.exact
    assert state.active_limit == "back-off"
    assert state.high_side == pytest.approx(car.controller.back_off_pa, rel=1e-3)
    assert state.inventory_kg == pytest.approx(state.charge_kg, abs=1e-3)
