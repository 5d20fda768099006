"""The end of a sheet: who answers for it, and what it was made with."""

from __future__ import annotations

from collections.abc import Iterator

from engine.job.events import STARTED
from engine.job.session.versions import present
from engine.job.sheet.blocks import Blanks, Block, Lines, Text
from engine.job.sheet.teller import Teller, clean


def signature(teller: Teller) -> Iterator[Block]:
    """Lines to sign."""
    yield Blanks(("Technician", "Certificate number", "Date", "Checked by"))


def versions(teller: Teller) -> Iterator[Block]:
    """The flow's hash, the versions the job began with, and those that made this sheet."""
    started = teller.first(STARTED)
    kept = started.detail.get("versions") if started else None
    lines = [
        ("Flow", f"{teller.flow.name}, revision {teller.flow.revision}"),
        ("Flow hash", teller.flow.hash),
    ]
    if isinstance(kept, dict):
        lines.append(("Job begun with", ", ".join(f"{name} {kept[name]}" for name in kept)))
    lines.append(("Sheet made with", str(present())))
    yield Lines(tuple((label, clean(told)) for label, told in lines))
    yield Text(
        "Gauges alone prove neither the charge nor a part. A finding is a reason to test. "
        "(cp) marks common practice without a published source."
    )
