"""One flow from all its sections."""

from __future__ import annotations

from pathlib import PurePosixPath

from engine.flow.assemble import grading, weighing
from engine.flow.assemble import readings as of_readings
from engine.flow.assemble.conditions import name_table
from engine.flow.assemble.references import check_target
from engine.flow.assemble.runs import check_uses
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.assemble.steps import StepBuilder, build_watch
from engine.flow.assemble.taken import leave_out_mute
from engine.flow.model import VEHICLES, Flow, Limits
from engine.flow.schema import Head, LimitsPart
from engine.flow.suggest import shown

FORMAT = 1
"""The one format of flow files there is."""


def build(sections: Sections, main: str, bundle_hash: str) -> Flow:
    """The flow, as far as it could be read; only without a problem noted may it be used."""
    readings = of_readings.readings(sections)
    sets = of_readings.sets(sections)
    cautions = of_readings.cautions(sections)
    table = name_table(sections, readings)
    leave_out_mute(sections, table)
    check_uses(sections)
    head = sections.head
    settled = head.part.settled if head else ""
    steps = StepBuilder(sections, table, cautions, weighing.rankable(sections), settled)
    flow_steps = {name: steps.step(entry) for name, entry in sections.entries["steps"].items()}
    if head:
        _check_head(head, sections, main)
    return Flow(
        name=head.part.flow if head else "",
        revision=head.part.revision if head else 0,
        title=head.part.title if head else "",
        about=head.part.about if head else "",
        start=head.part.start if head else "",
        readings=of_readings.with_conditions(readings, sections, table),
        sets=sets,
        cautions=cautions,
        watch=tuple(build_watch(entry, sections, table) for entry in sections.watch),
        steps=flow_steps,
        signs={
            sign.name: sign
            for entry in sections.entries["signs"].values()
            for sign in grading.signs(entry, sections, table)
        },
        findings={
            name: weighing.finding(e, sections, table) for name, e in sections.entries["findings"].items()
        },
        limits=_limits(head.part.limits) if head else Limits(),
        hash=bundle_hash,
        beside=weighing.beside(head, sections) if head else {},
        verification=head.part.verification if head else None,
        vehicles=head.part.vehicles if head else VEHICLES[0],
    )


def _check_head(head: Entry[Head], sections: Sections, main: str) -> None:
    part, stem = head.part, PurePosixPath(main).stem
    if part.format != FORMAT:
        hint = f"write 'format: {FORMAT}', or use a newer loadstep"
        head.wrong(f"format {part.format} is not known here", hint, "format")
    if part.flow != stem:
        head.wrong(f"flow {shown(part.flow)} is in a file called '{stem}'", f"write 'flow: {stem}'", "flow")
    if not sections.names("steps"):
        head.wrong("the flow has no steps", "add 'steps:'", "flow")
    else:
        check_target(head, sections, part.start, "start")
    for key in ("settled", "alive"):
        if getattr(part.limits, key) >= 1:
            head.wrong(f"'{key}' is a probability", "write a number below 1", "limits", key)
    for key in ("lead", "outside", "also"):
        if getattr(part.limits, key) < 1:
            head.wrong(f"'{key}' is odds of one against the other", "write 1 or more", "limits", key)


def _limits(part: LimitsPart) -> Limits:
    return Limits(part.settled, part.lead, part.outside, part.also, part.alive)
