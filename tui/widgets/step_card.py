"""The card of a step: what to do, why and how, or the cautions that must be read first."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.message import Message

from engine.flow.model import ITEM_CAUTIONS, Caution, Step
from engine.job.state import INTERRUPT
from engine.job.walk import Walk, carried_here
from tui.plain import one_line, plain
from tui.widgets.lines import LineView, hanging
from tui.widgets.signals import STOP_STYLE, caution_lines, caution_words


class StepCard(VerticalScroll):
    """Shows the step of a walk, as tall as its text or what `below` leaves of the column, then it scrolls."""

    DEFAULT_CSS = "StepCard { height: auto; width: 1fr; scrollbar-size-vertical: 1; }"

    class Scrolled(Message):
        """Another part of the card is in view."""

    def __init__(self, below: str, *, id: str | None = None) -> None:
        """`below` is the id of the sibling that keeps its full height."""
        super().__init__(LineView(), id=id)
        self._below = below

    def show(self, walk: Walk) -> None:
        """Draw the step that `walk` stands at, from its first line."""
        lines = self.query_one(LineView)
        lines.show(lambda width: card_lines(walk, width))
        self.scroll_home(animate=False)

    @property
    def all_seen(self) -> bool:
        """Whether the last line is in view."""
        return self.scroll_offset.y >= self.max_scroll_y

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        super().watch_scroll_y(old_value, new_value)
        self.post_message(self.Scrolled())

    def on_resize(self) -> None:
        self.post_message(self.Scrolled())

    @property
    def text(self) -> str:
        """What the card says, seen or scrolled away."""
        return self.query_one(LineView).text

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        wanted = super().get_content_height(container, viewport, width)
        parent = self.parent
        below = parent.query_one(f"#{self._below}") if parent is not None else None
        if below is None or not below.display:
            return wanted
        inside = container.width - below.styles.gutter.width - below.styles.margin.width
        height = below.get_content_height(container, viewport, inside)
        taken = height + below.styles.gutter.height + below.styles.margin.height
        return max(1, min(wanted, container.height - taken))


def card_lines(walk: Walk, width: int) -> list[Content]:
    """The lines of the card: a STOP first if a watch rule led here, then the step."""
    step = walk.step
    if step is None:
        return _finished(walk, width)
    lines = stop_lines(walk, width)
    lines += hanging(Content.styled(one_line(step.title), "bold $text-accent"), width)
    lines.append(Content(""))
    if walk.prompt is not None and walk.prompt.item == ITEM_CAUTIONS:
        return lines + _cautions_to_read(walk, step, width)
    lines += step_lines(step, width) + carried_lines(walk, step, width)
    return lines + set_lines(walk, step, width) + _cautions_read(walk, step, width)


def step_lines(step: Step, width: int) -> list[Content]:
    """What to do, why and how."""
    lines: list[Content] = []
    for part in plain(step.do).splitlines():
        lines += hanging(Content(part), width)
    if step.why:
        lines += [Content(""), *captioned("Why", step.why, width)]
    if step.how:
        lines.append(Content(""))
        for number, sentence in enumerate(step.how, 1):
            lines += hanging(Content(one_line(sentence)), width, f"{number}. ")
    return lines


def carried_lines(walk: Walk, step: Step, width: int) -> list[Content]:
    """The readings of the step that are known from the flow before, and so are not asked again."""
    labels = [
        one_line(walk.flow.readings[name.rpartition(".")[2]].label) for name in carried_here(walk, step)
    ]
    return [Content(""), *captioned("Known from before", ", ".join(labels), width)] if labels else []


def set_lines(walk: Walk, step: Step, width: int) -> list[Content]:
    """What has to be held as long as the set of the step is taken."""
    fixed = walk.flow.sets[step.set].fixed if step.set is not None else ()
    lines = [Content(""), Content.styled("Hold all the while", "bold $quiet")] if fixed else []
    for sentence in fixed:
        lines += hanging(Content(one_line(sentence)), width, "· ")
    return lines


def captioned(caption: str, text: str, width: int) -> list[Content]:
    """`text` hanging behind a quiet caption."""
    first, *rest = hanging(Content(one_line(text)), width, " " * (len(caption) + 2))
    head = Content.styled(caption, "bold $quiet")
    return [head + first[len(caption) :], *rest]


def stop_lines(walk: Walk, width: int) -> list[Content]:
    """A banner with the reason, as long as the walk stands where a watch rule sent it."""
    reason = stop_reason(walk)
    if not reason:
        return []
    banner = hanging(Content(f"■ STOP  {reason}"), max(width - 2, 1), " ", " ")
    return [line.pad_right(max(0, width - line.cell_length)).stylize(STOP_STYLE) for line in banner] + [
        Content("")
    ]


def stop_reason(walk: Walk) -> str:
    """Why a watch rule stopped the procedure; empty once it resumed or was concluded."""
    if not walk.interrupted or walk.conclusion is not None:
        return ""
    return next((one_line(entry.because) for entry in reversed(walk.trail) if entry.how == INTERRUPT), "")


def cautions_of(walk: Walk, step: Step) -> list[Caution]:
    """The cautions of a step, gravest first (the flow has them in that order)."""
    return [walk.flow.cautions[name] for name in step.cautions]


def read_before(walk: Walk, step: Step) -> frozenset[str]:
    """Ids of the cautions acknowledged at an earlier visit of the same step."""
    return frozenset(id for shown in walk.cautions if shown.step == step.id for id in shown.ids)


def _cautions_to_read(walk: Walk, step: Step, width: int) -> list[Content]:
    before = read_before(walk, step)
    cautions = cautions_of(walk, step)
    new = [caution for caution in cautions if caution.id not in before]
    again = [caution for caution in cautions if caution.id in before]
    lines = caution_lines(new, width)
    if again:
        lines += [Content("")] if lines else []
        lines.append(
            Content.styled(
                "Exposed again. You have read these at this step before (F1 shows them):", "$quiet"
            )
        )
        lines += caution_words(again, width)
    return lines


def _cautions_read(walk: Walk, step: Step, width: int) -> list[Content]:
    reminder = caution_words(cautions_of(walk, step), width)
    return [Content(""), *reminder] if reminder else []


def _finished(walk: Walk, width: int) -> list[Content]:
    lines = [Content.styled("The job is finished", "bold $text-accent"), Content("")]
    if walk.conclusion is not None:
        found = walk.flow.findings.get(walk.conclusion.finding)
        title = found.title if found is not None else walk.conclusion.finding
        lines += captioned("Finding", title, width)
    return lines
