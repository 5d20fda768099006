"""What healthy vehicles of the fleet read in the sets a technician takes: the raw material of the bands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from engine.physics.command import judge_command
from engine.physics.fleet_table import dampness
from engine.physics.refrigerant import dew_temperature
from engine.physics.units import ZERO_C
from engine.vehicle.bench import Bench
from engine.vehicle.fleet import FLEETS
from engine.vehicle.set_readings import LOW_BLOWER, scan_word
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

__all__ = ["FLEET_NAME", "SEED", "Sample", "samples_of"]

FLEET_NAME, SEED = "fleet", 930_417
"""Trials count their seeds from 1 and weights are fitted below 100,000: no car here is met there."""

AMBIENT_K = (278.15, 321.15)
_IDLE_1_MIN = (700.0, 1000.0)
_HELD_1_MIN = (1300.0, 2700.0)
_SET_SPEEDS = (1500.0, 1500.0, 1800.0, 2500.0)  # of the main flow's sets; else drawn from the range above
_AS_THE_SETS = 0.7
_LOADS = ("lowered", "moderate", "raised")  # the lightest first
_STATES = {"minimum": "minimum", "part": "part", "maximum": "ceiling"}
_MOVED_K = 2.0  # as engine.flow.computed.command has it: warmer intake air shows that the load rose


@dataclass(frozen=True, slots=True)
class Sample:
    """One settled state. `own`: the car's own control brought it there.

    Temperatures: ambient, evaporating and vent in degC, condensing in K over ambient; speed in 1/s;
    `high_gauge_pa` is the high side as a gauge has it.
    """

    index: int
    load: str
    commands: tuple[str, ...]
    idle: bool
    own: bool
    ambient_c: float
    damp: float
    speed: float
    low_side: float
    high_side: float
    vent_temperature: float
    high_gauge_pa: float


def samples_of(index: int) -> list[Sample]:
    """All states of healthy vehicle `index`, idling and held up."""
    drawn = FLEETS[FLEET_NAME].draw(SEED, index, ambient=AMBIENT_K)
    bench = Bench(f"bands:{SEED}:{index}", drawn.vehicle, (), drawn.weather, drawn.shop)
    chance = Random(f"{SEED}:{index}:speeds")
    idle = chance.uniform(*_IDLE_1_MIN)
    held = chance.choice(_SET_SPEEDS) if chance.random() < _AS_THE_SETS else chance.uniform(*_HELD_1_MIN)
    lowest = chance.choice((0.0, 0.0, LOW_BLOWER))
    found: list[Sample] = []
    for minute, slow in ((idle, True), (held, False)):
        situations = {
            "lowered": replace(bench.lowered, blower=lowest, engine_speed=minute / 60.0),
            "moderate": replace(bench.moderate, engine_speed=minute / 60.0),
            "raised": replace(bench.raised, engine_speed=minute / 60.0),
        }
        found += _by_own_control(bench, index, situations, slow)
        found += _held(bench, index, situations, slow)
    return found


def _by_own_control(
    bench: Bench, index: int, situations: dict[str, Situation], slow: bool
) -> Iterator[Sample]:
    states = [bench.state(situations[load]) for load in _LOADS]
    for i, load in enumerate(_LOADS):
        told = {_STATES[scan_word(states[i])], _by_duty(states, i)} - {"unknown"}
        yield _sample(bench, index, load, tuple(sorted(told)), slow, True, situations[load], states[i])


def _by_duty(states: list[State], i: int) -> str:
    """What a technician without scan tool would judge: duty against the nearest other loads.

    So a car at its ceiling under the heaviest load, whose duty rose up to there, counts as `part` too.
    """
    lighter, heavier = (states[i - 1] if i else None), (states[i + 1] if i + 1 < len(states) else None)
    low, high = (states[i], heavier) if heavier else (lighter, states[i])
    assert low is not None
    assert high is not None
    return judge_command(
        None,
        None,
        None,
        states[i].duty,
        None if lighter is None else lighter.duty,
        None if heavier is None else heavier.duty,
        high.intake_temperature - low.intake_temperature >= _MOVED_K,
    ).state


def _held(bench: Bench, index: int, situations: dict[str, Situation], slow: bool) -> Iterator[Sample]:
    """Full command under raised load, as one set has it; least command, and A/C off, under every load."""
    full = replace(situations["raised"], command="maximum")
    yield _sample(bench, index, "raised", ("ceiling",), slow, False, full, bench.state(full))
    for load, situation in situations.items():
        for least in (replace(situation, command="minimum"), replace(situation, ac_on=False)):
            yield _sample(bench, index, load, ("minimum",), slow, False, least, bench.state(least))


def _sample(
    bench: Bench,
    index: int,
    load: str,
    commands: tuple[str, ...],
    slow: bool,
    own: bool,
    situation: Situation,
    state: State,
) -> Sample:
    name, around = bench.vehicle.refrigerant, situation.atmosphere_pa
    return Sample(
        index,
        load,
        commands,
        slow,
        own,
        situation.ambient_k - ZERO_C,
        dampness(situation.ambient_k, situation.relative_humidity),
        situation.engine_speed,
        dew_temperature(name, state.low_side + around) - ZERO_C,
        dew_temperature(name, state.high_side + around) - situation.ambient_k,
        state.vent_temperature - ZERO_C,
        state.high_side,
    )
