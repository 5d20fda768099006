"""Sentences a session has for the person."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.index import titles
from engine.flow.model import Flow
from engine.job.session.journal import Journal
from engine.job.session.outcome import differ
from engine.job.session.versions import Versions
from engine.job.state import Conclusion
from engine.job.store import Job, StoreReadOnly
from engine.job.walk import Walk

GAP = 0.03
"""Share of duty; a larger difference between the duty given and the one displayed is told."""


def unsaved_sentence(journal: Journal) -> str:
    """What is not on disk, why, and what to do; empty if all is."""
    if not journal.unsaved or journal.trouble is None:
        return ""
    if isinstance(journal.trouble, StoreReadOnly):  # no later answer will change that
        return f"This job is not kept on disk: write its sheet before you close loadstep. {journal.trouble}"
    count = "The last entry is" if journal.unsaved == 1 else f"The last {journal.unsaved} entries are"
    return f"{count} not on disk yet: do not close loadstep. {journal.trouble}"


VOLTS_GAP = 0.10
"""The same against mean volts, which ignore the diode and are good to some 5 points (our choice)."""


def duty_gaps(walk: Walk) -> Mapping[str, str]:
    """A sentence where two ways to read the duty disagree, by the set's name ("" for the job)."""
    found = {}
    for name, state in walk.flow.sets.items():
        gap = walk.facts.get(f"{name}.duty_gap")
        if isinstance(gap, float) and abs(gap) > GAP:
            found[name] = (
                f"{state.label}: the duty given is {abs(gap) * 100:.0f} points "
                f"{'above' if gap > 0 else 'below'} what the meter's display means. "
                "Check the leads, the edge and the switched side."
            )
    volts = walk.facts.get("mean_volts_gap")
    if isinstance(volts, float) and abs(volts) > VOLTS_GAP:
        found[""] = (
            f"Mean volts put the duty {abs(volts) * 100:.0f} points {'above' if volts > 0 else 'below'} "
            "what the meter's display means. Check the leads, the edge and the switched side."
        )
    return found


def version_sentences(job: Job, versions: Versions) -> list[str]:
    """What has changed since the job was begun: the program, the flow."""
    then = Versions(job.program_version, job.table_version, job.band_version)
    told = []
    if then != versions:
        told.append(f"This job was begun with {then}; this is {versions}: computed values may differ.")
    shipped = next((title for title in titles() if title.name == job.flow), None)
    if shipped is not None and shipped.revision != job.revision:
        told.append(
            f"The flow {job.flow} is at revision {shipped.revision} now; "
            f"this job goes on with revision {job.revision}, which it was begun with."
        )
    return told


def conclusion_sentence(stored: Conclusion | None, walk: Walk) -> str:
    """How what is concluded now differs from what was written down; empty if it does not."""
    if stored is None or not differ(stored, walk.conclusion):
        return ""
    then = finding_title(walk, stored.finding)
    if walk.conclusion is None:
        return f"The finding was: {then}. With this version the same answers lead to none. The first is kept."
    now = finding_title(walk, walk.conclusion.finding)
    if then == now:
        return f"The finding is still: {then}, but this version weighs its evidence otherwise. Both are kept."
    return f"The finding was: {then}. With this version the same answers give: {now}. Both are kept."


def language_sentences(flow: Flow, language: str) -> tuple[str, ...]:
    """That a flow has no words in the language asked for, so that nobody thinks it was forgotten."""
    if not language or flow.language:
        return ()
    return (f"There are no words in '{language}' for this flow; it is shown as it was written.",)


def finding_title(walk: Walk, finding: str) -> str:
    """The finding's title in the flow, else its id."""
    found = walk.flow.findings.get(finding)
    return found.title if found is not None else finding
