"""The head of a sheet: which job it is, and concern, cause and correction."""

from __future__ import annotations

from collections.abc import Iterator

from engine.job.begun_with import EVERY_STEP
from engine.job.certainty import certainty
from engine.job.events import FINISHED, STARTED
from engine.job.session.outcome import stored_conclusion
from engine.job.sheet.blocks import Blanks, Block, Lines, Text
from engine.job.sheet.teller import Teller, clean
from engine.job.state import Conclusion


def begun(teller: Teller) -> str:
    """When the job began."""
    return f"begun {teller.day(teller.events[0].at)}" if teller.events else "not begun"


def identification(teller: Teller, number: str) -> Iterator[Block]:
    """Vehicle, job, when, and where it stands."""
    started = teller.first(STARTED)
    detail = started.detail if started else {}
    lines = [("Job", number), ("Procedure", ", then ".join(_procedures(teller)))]
    if teller.events:
        last = teller.events[-1].at
        lines.append(("Begun, last entry", f"{teller.day(teller.events[0].at)}, {teller.day(last)}"))
    lines.append(("Status", _status(teller)))
    if detail.get("after"):
        lines.append(("Verifies", f"the repair after job {detail['after']}"))
    if detail.get("learner"):
        taught = ", every step asked" if detail.get(EVERY_STEP) else ""
        lines.append(("Walked by", f"a learner, with predictions{taught}"))
    vehicle = clean(str(detail.get("vehicle") or ""))
    if vehicle:
        lines.append(("Vehicle", vehicle))
    yield Lines(tuple(lines))
    yield Blanks((*(() if vehicle else ("Vehicle",)), "Identification number", "Odometer", "Customer"))


def _procedures(teller: Teller) -> Iterator[str]:
    """The flow, or in order the flows that handed over to one another."""
    for walk in reversed(teller.walks):
        yield f"{clean(walk.flow.title)} (revision {walk.flow.revision})"


def concern(teller: Teller) -> Iterator[Block]:
    """What the customer said, what was found, what was done; the last by hand."""
    conclusion = stored_conclusion(teller.events) or teller.walk.conclusion
    verified = teller.fact("complaint")
    yield Lines(
        (
            ("Concern, as verified", verified or "not recorded"),
            ("Cause", _cause(teller, conclusion)),
        )
    )
    yield Blanks(
        ("Concern, in the customer's words", "Correction: what was done", "Parts and oil, with amounts")
    )
    yield Text(
        "After the repair, measure again and keep that as a job linked to this one: "
        "two faults at once are common."
    )


def _cause(teller: Teller, conclusion: Conclusion | None) -> str:
    if conclusion is None:
        return "not found yet"
    sure = certainty(conclusion, teller.step)
    return f"{teller.finding(conclusion.finding)}{f' ({sure})' if sure else ''}"


def _status(teller: Teller) -> str:
    walk = teller.walk
    if any(event.kind == FINISHED for event in teller.events) and walk.prompt is None:
        return "finished"
    if walk.prompt is None:
        return "at its end"
    standing = "concluded, closing steps left" if walk.conclusion else "open"
    return f"{standing}, at: {teller.step(walk.prompt.step)}"
