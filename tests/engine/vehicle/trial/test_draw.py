"""Cases from the fleets: the same for the same question, in any process and on any call."""

import pickle

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.vehicle.trial.case import Ask, Fault, Range
from engine.vehicle.trial.draw import FleetDrawer
from engine.vehicle.trial.job import walk_through

DRAWER = FleetDrawer()


def test_it_goes_to_other_processes() -> None:
    again = pickle.loads(pickle.dumps(DRAWER))
    assert again == DRAWER


def test_the_same_question_gives_the_same_job() -> None:
    flow = load_flow(find("stroke_by_load"))
    ask = Ask("shifted", 3, 17, (Fault("undercharge", 0.6),), skipped=0.1)
    walks = []
    for _ in range(2):
        case = DRAWER.draw(ask)
        walks.append(walk_through(flow, case.technician(case.faults)))
        walks.append(walk_through(flow, case.technician(case.faults)))
    assert all(walk.answered == walks[0].answered for walk in walks)


def test_icing_tells_its_cause_and_a_repair_takes_its_fault_away() -> None:
    ask = Ask("fleet", 1, 2, (Fault("evaporator-icing", 0.7), Fault("undercharge", 0.5)))
    case = DRAWER.draw(ask)
    assert len(case.faults[0].causes) == 1
    left = case.technician((case.faults[1],))
    assert [injury.finding for injury in left.bench.injuries] == ["undercharge"]  # type: ignore[attr-defined]
    assert left.bench.effects.frost_m == 0.0  # type: ignore[attr-defined]


def test_what_is_asked_for_is_kept_to() -> None:
    case = DRAWER.draw(Ask("fleet", 1, 4, (), Range(300.15, 300.15), "R-1234yf"))
    assert case.about["refrigerant"] == "R-1234yf"
    assert case.about["ambient"].startswith("27 degC")
    assert DRAWER.refrigerants() == ("R-134a", "R-1234yf")
    assert DRAWER.fleets() == ("fleet", "shifted")
