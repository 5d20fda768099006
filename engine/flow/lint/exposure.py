"""Steps that meet a hazard by what they do, and show no caution for it."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.lint.gauges import connects, disconnects, reads_gauge
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.model import Flow, Step
from engine.physics.quantity import Kind

AT_REST = "rest"
PRESSURISED, RUNNING = ("pressurised",), ("rotating", "exhaust")
"""Exposures as the shipped cautions call them; steps of a flow that has cautions for them must name them."""


def _bare(linting: Linting) -> Iterator[Found]:
    flow = linting.flow
    known = {caution.exposure for caution in flow.cautions.values() if caution.exposure}
    for name, step in flow.steps.items():
        for reason, exposures in _meets(flow, step):
            lacking = [one for one in exposures if one in known and one not in step.exposure]
            place = linting.entry("steps", name).place(key=True)
            if lacking:
                words = " and ".join(f"'{one}'" for one in lacking)
                hint = f"add {words} to its 'exposure'"
                yield Found(place, f"step '{name}' {reason} without exposure {words}", hint, (name,))
            elif not known & set(exposures) and not _warns(flow, step):
                what = f"step '{name}' {reason} and shows no caution for people"
                hint = f"add a caution with 'exposure: {exposures[0]}', and name that in the step"
                yield Found(place, what, hint, (name,))


def _meets(flow: Flow, step: Step) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What the step does that is a hazard, with the exposures that go with it."""
    if connects(step) or disconnects(step):
        yield "handles gauges or hoses", PRESSURISED
    elif reads_gauge(flow, step) or _takes_pressure(flow, step):
        yield "reads the pressure of the circuit", PRESSURISED
    if step.record and step.set is not None and flow.sets[step.set].load != AT_REST:
        yield "reads a running system", RUNNING


def _takes_pressure(flow: Flow, step: Step) -> bool:
    return any(flow.readings[name].kind is Kind.PRESSURE for name in step.record)


def _warns(flow: Flow, step: Step) -> bool:
    return any(flow.cautions[name].signal != "NOTICE" for name in step.cautions)


EXPOSED = Rule(
    "exposed-without-caution",
    "Who works at a hazard must read its caution first; a step shows those of the exposures it names.",
    "Name the exposure in the step, and see that a caution with that exposure is there.",
    _bare,
)
