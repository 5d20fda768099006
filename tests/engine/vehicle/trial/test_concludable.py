"""What a flow can conclude, and that a trial draws nothing else unless it is named."""

from dataclasses import replace

from engine.flow.library import find
from engine.flow.load import load_bundle, load_flow
from engine.flow.model import Flow
from engine.vehicle.faults import FAULTS
from engine.vehicle.trial.concludable import concludable, concluded_here
from engine.vehicle.trial.draw import FleetDrawer
from engine.vehicle.trial.plan import Plan
from tests.engine.vehicle.trial.yard import FLOW, Yard, yard_flow
from tests.flows.walking import main_flow


def _without(cut: str, put: str) -> Flow:
    assert cut in FLOW
    return load_bundle({"yard.yaml": FLOW.replace(cut, put).encode()}, "yard.yaml")


def _drawn(flow: Flow) -> set[str]:
    plan = Plan(flow, Yard(), ("yard",))
    return {fault.finding for index in range(40) for fault in plan.ask("yard", index).faults}


def test_what_is_proved_and_what_can_come_out_of_a_ranking() -> None:
    assert concludable(yard_flow()) == {"no-fault", "worn", "dirty", "frozen", "snapped"}


def test_a_candidate_that_no_sign_speaks_for_cannot() -> None:
    flow = _without("frozen: [2, 0.5]", "frozen: [1, 0.5]")
    assert "frozen" not in concludable(flow)
    assert _drawn(flow) == {"worn", "dirty", "snapped"}


def test_a_step_that_lacks_a_reading_names_nothing() -> None:
    put = "conclude: all, ranks_only: true}\nsigns:"
    flow = _without("conclude: all}\nsigns:", put)
    flow = replace(flow, steps={**flow.steps, "nothing-there": replace(flow.steps["stands"], id="x")})
    assert concludable(flow) == {"snapped"}


def test_what_a_flow_handed_over_to_concludes_counts() -> None:
    flow = _without("frozen: [2, 0.5]", "frozen: [1, 0.5]")
    over = replace(flow, hand_overs={"yard": yard_flow()})
    assert "frozen" in concludable(over)
    assert "frozen" not in concluded_here(over)


def test_a_flow_that_leaves_open_what_is_wrong_is_tried_on_every_fault_once() -> None:
    plan = Plan(load_flow(find("after_repair")), FleetDrawer(), ("fleet",))
    drawn = [fault.finding for index in range(2 * len(FAULTS)) for fault in plan.ask("fleet", index).faults]
    assert sorted(drawn) == sorted(FAULTS)


def test_named_faults_are_drawn_whatever_the_flow_concludes() -> None:
    plan = Plan(_without("frozen: [2, 0.5]", "frozen: [1, 0.5]"), Yard(), ("yard",), named=("frozen",))
    assert plan.ask("yard", 0).faults[0].finding == "frozen"


def test_the_main_flow_draws_every_fault_in_the_order_it_always_did() -> None:
    names = concludable(main_flow())
    assert [name for name in FleetDrawer().faults() if name in names] == list(FAULTS)
