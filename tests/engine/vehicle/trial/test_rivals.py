"""The rivals of the benchmark: what the chart calls a vehicle, and that the chain asks for everything."""

import pytest

from engine.job.depends import readings_asked
from engine.vehicle.trial.job import walk_through
from tests.bench.rivals import asks_all, by_chart, columns
from tests.engine.vehicle.trial.made import result, said
from tests.engine.vehicle.trial.yard import Table, yard_flow

FLOW = yard_flow()


@pytest.mark.parametrize(
    ("low_kpa", "high_kpa", "air_c", "told"),
    [
        (190.0, 1300.0, 25.0, "no-fault"),
        (330.0, 2000.0, 40.0, "no-fault"),
        (330.0, 1300.0, 25.0, "expansion-valve-stuck-open"),
        (330.0, 900.0, 25.0, "weak-compressor"),
        (100.0, 900.0, 25.0, "undercharge"),
        (215.0, 2300.0, 32.5, "condenser-airflow"),  # between two rows: 212.5 to 260 and 1400 to 1705 kPa
    ],
)
def test_the_chart(low_kpa: float, high_kpa: float, air_c: float, told: str) -> None:
    facts = {
        "baseline.low_side": low_kpa * 1e3,
        "baseline.high_side": high_kpa * 1e3,
        "ambient_temperature": air_c + 273.15,
    }
    assert by_chart(facts) == told


def test_without_gauges_the_chart_says_nothing() -> None:
    assert by_chart({"ambient_temperature": 300.0}) == "inconclusive"


def test_the_chain_asks_for_every_reading_whatever_was_found() -> None:
    texts = {"turns": "no", "baseline.low_side": "3", "baseline.high_side": "3", "leaves": "no"}
    walk = walk_through(asks_all(FLOW), Table(texts))
    assert walk.asked == set(readings_asked(FLOW))
    assert set(walk.facts.known()) >= set(texts)


def test_facts_become_numbers() -> None:
    told = said("no-fault")
    seen = [
        result(0, (), told, facts={"turns": "yes", "baseline.low_side": 2e5}),
        result(1, (), told, facts={"turns": "no"}),
    ]
    made = columns(FLOW, seen)
    assert made.words == (("turns", "no"), ("turns", "yes"))
    low = made.numbers.index("baseline.low_side")
    first, second = made.row(seen[0].facts), made.row(seen[1].facts)
    assert first[low] == 2e5
    assert first[-2:] == [0.0, 1.0]
    assert second[low] != second[low]  # not a number
    assert second[-2:] == [1.0, 0.0]
