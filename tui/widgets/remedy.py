"""What to do about a conclusion, as lines: measure, confirm, part the rivals, repair, verify."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content

from engine.flow.model import INCONCLUSIVE, Finding, Flow
from engine.job.state import Conclusion
from tui.plain import one_line, plain
from tui.widgets.evidence import advised, title_of
from tui.widgets.lines import hanging, heading, numbered

ALWAYS = "The vehicle maker's instructions and local rules come before anything said here."


def remedy_lines(flow: Flow, conclusion: Conclusion, width: int) -> list[Content]:
    """The next measurement first, then the finding's own advice. An open question gets no repair."""
    finding = advised(flow, conclusion)
    lines = list(_measure_next(flow, conclusion, width))
    if finding is not None and conclusion.finding == INCONCLUSIVE:
        lines += _section(f"To settle: {one_line(finding.title)}", finding.confirm, width)
        lines += _rivals(flow, finding, width)
    elif finding is not None:
        lines += _section("Confirm", finding.confirm, width)
        lines += _rivals(flow, finding, width)
        lines += _section("Repair", finding.repair, width)
        lines += _section("Verify", finding.verify, width)
    note = (finding.note if finding is not None else "") or ALWAYS
    lines += [*heading("Note"), *hanging(Content(plain(note)), width)]
    return lines[1:]  # the screen sets it apart from the evidence


def wanted_reading(flow: Flow, conclusion: Conclusion) -> str:
    """The missing reading that would part the first two best, with its set; empty if there is none."""
    if conclusion.next_measurement is None:
        return ""
    set_name, _, name = conclusion.next_measurement.reading.rpartition(".")
    reading = flow.readings.get(name)
    label = one_line(reading.label) if reading is not None else name.replace("_", " ")
    return f"{label}, {one_line(flow.sets[set_name].label)}" if set_name in flow.sets else label


def _measure_next(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    wanted = conclusion.next_measurement
    if wanted is None:
        return
    first, second = (title_of(flow, finding) for finding in wanted.separates)
    text = Content.assemble(
        (wanted_reading(flow, conclusion), "bold"), f": it would part {first} from {second}."
    )
    yield from heading("Measure next")
    yield from hanging(text, width)
    reading = flow.readings.get(wanted.reading.rpartition(".")[2])
    if reading is not None and reading.how:
        yield from hanging(Content.styled(plain(reading.how), "$quiet"), width)


def _rivals(flow: Flow, finding: Finding, width: int) -> Iterable[Content]:
    if finding.rivals:
        yield from heading("Rivals, and what parts them")
    for rival, test in finding.rivals.items():
        text = Content.assemble((title_of(flow, rival), "bold"), f": {one_line(test)}")
        yield from hanging(text, width, "• ")


def _section(title: str, sentences: Sequence[str], width: int) -> Iterable[Content]:
    if sentences:
        yield from heading(title)
        yield from numbered(sentences, width)
