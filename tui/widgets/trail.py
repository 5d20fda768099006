"""The trail: the steps passed, why the walk went where it did, what was ruled out, and where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content

from engine.flow.model import Step
from engine.job.state import CARRIED, HANDED_OVER, INTERRUPT, RESUMED, SKIPPED_FOR, SPENT, WENT, TrailEntry
from engine.job.walk import Walk
from tui.plain import one_line
from tui.units import Units
from tui.widgets.figures import told
from tui.widgets.lines import LineView, hanging

MARKS = {
    WENT: "✓ ",
    SKIPPED_FOR: "○ ",
    INTERRUPT: "! ",
    RESUMED: "↩ ",
    SPENT: "∞ ",
    CARRIED: "= ",
    HANDED_OVER: "⇒ ",
}
WORDS = {
    SKIPPED_FOR: "not needed",
    INTERRUPT: "interrupted",
    RESUMED: "back to the step that was interrupted",
    SPENT: "tried often enough",
    CARRIED: "not asked again",
    HANDED_OVER: "handed over to",
}
_STYLES = {INTERRUPT: "bold $text-error", SKIPPED_FOR: "$quiet", CARRIED: "$quiet", SPENT: "$text-warning"}


class TrailPane(VerticalScroll):
    """Shows a walk's trail and keeps its last line in view."""

    DEFAULT_CSS = "TrailPane { width: 1fr; height: 1fr; padding: 0 0 0 1; scrollbar-size-vertical: 1; }"

    def compose(self) -> ComposeResult:
        yield LineView()

    def show(self, walk: Walk, units: Units) -> None:
        """Draw the trail of `walk`."""
        self.query_one(LineView).show(lambda width: trail_lines(walk, units, width))
        self.anchor()


def trail_lines(walk: Walk, units: Units, width: int) -> list[Content]:
    """The whole trail, oldest first, the current step last."""
    last_visit = {entry.step: entry.visit for entry in walk.trail}
    lines: list[Content] = []
    for entry in walk.trail:
        lines += _passed(walk, entry, units, width)
        if entry.visit == last_visit[entry.step]:
            lines += _ruled_out(walk, entry.step, width)
    return lines + _current(walk, width)


def _passed(walk: Walk, entry: TrailEntry, units: Units, width: int) -> Iterable[Content]:
    step = walk.flow.steps[entry.step]
    style = _STYLES.get(entry.how, "$quiet" if step.is_junction else "")
    yield from _wrapped(_title(step, entry.visit), style, width, MARKS[entry.how])
    for line in _answers(walk, step, entry, units):
        yield from _wrapped(line, "", width, "  ")
    reason = ": ".join(part for part in (WORDS.get(entry.how, ""), one_line(entry.because)) if part)
    if reason:
        yield from _wrapped(reason, "italic $quiet", width, "  → ")


@lru_cache(maxsize=2048)
def _wrapped(text: str, style: str, width: int, first: str) -> tuple[Content, ...]:
    # The trail is drawn anew at every answer, and all but its last lines are what they were.
    return tuple(hanging(Content.styled(text, style) if style else Content(text), width, first))


def _answers(walk: Walk, step: Step, entry: TrailEntry, units: Units) -> Iterable[str]:
    """What was answered about the job, and what could not be; readings of sets stand on the board."""
    known, unknown = [], []
    for name in step.ask:
        answer, reading = walk.answered.get((entry.step, entry.visit, name)), walk.flow.readings[name]
        if answer is not None and answer.value is not None:
            words = {choice.word: choice.label for choice in reading.choices}
            known.append(f"{one_line(reading.label)}: {told(units, answer.value, reading.kind, words)}")
        elif answer is not None:
            unknown.append(one_line(reading.label))
    if known:
        yield "; ".join(known)
    if unknown:
        yield f"cannot measure: {', '.join(unknown)}"


def _ruled_out(walk: Walk, step: str, width: int) -> Iterable[Content]:
    for ruled in walk.ruled_out.values():
        if ruled.step == step:
            title = one_line(walk.flow.findings[ruled.finding].title)
            because = f": {one_line(ruled.because)}" if ruled.because else ""
            yield from _wrapped(f"ruled out {title}{because}", "", width, "  ✕ ")


def _current(walk: Walk, width: int) -> list[Content]:
    if walk.step is None:
        return [Content.styled("■ The job is finished.", "bold")]
    title = _title(walk.step, walk.visits.get(walk.step.id, 1))
    return hanging(Content.styled(title, "bold reverse"), width, "▸ ")


def _title(step: Step, visit: int) -> str:
    return f"{one_line(step.title)} ({visit})" if visit > 1 else one_line(step.title)
