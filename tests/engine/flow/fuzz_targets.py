"""What is tried with random input: a few examples in the tests, many in `tests.bench.fuzz`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from tests.engine.flow import fuzz_conditions as conditions
from tests.engine.flow import fuzz_flows as flows
from tests.engine.flow.draw import test_hostile as drawing

DRAWN = st.tuples(drawing.flows(), drawing.OVERLAYS)


@dataclass(frozen=True, slots=True)
class Target:
    """One kind of input; `share` of all examples, the shares together are 1."""

    name: str
    given: st.SearchStrategy[Any]
    check: Callable[[Any], None]
    share: float


TARGETS = (
    Target("any text as a condition", conditions.ANY_TEXT, conditions.check_any_text, 0.15),
    Target("logic", conditions.LOGIC, conditions.check_logic, 0.1),
    Target("reasoning about conditions", conditions.REASONED, conditions.check_reasoning, 0.2),
    Target("any bytes", flows.ANY_BYTES, flows.check_file, 0.1),
    Target("damaged flows", flows.DAMAGED, flows.check_file, 0.1),
    Target(
        "damaged flows without a warning",
        flows.DAMAGED_CLEAN,
        lambda data: flows.check_file(data, "clean"),
        0.1,
    ),
    Target("values in the place of others", flows.REPLACED, flows.check_file, 0.05),
    Target("woven flows", flows.WOVEN, flows.check_woven, 0.1),
    Target("flows of any shape, drawn", DRAWN, lambda drawn: flows.check_drawing(*drawn), 0.05),
    Target("sentences", flows.SENTENCES, flows.check_sentence, 0.05),
)
