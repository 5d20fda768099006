"""The evidence of a conclusion as lines: the finding, the ranking, what spoke for and against."""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content

from engine.flow.model import INCONCLUSIVE, Finding, Flow
from engine.job.certainty import certainty, odds, percent
from engine.job.state import Conclusion, Ranked, Spoken
from tui.plain import one_line, plain
from tui.widgets.lines import hanging, heading

SIGNS_SHOWN = 4  # for and against each of the first two, and for a second finding
BAR = 16  # cells
ONE_LINE = 64  # from this width a candidate takes one line
WORTH_A_BAR = 0.01
_EIGHTHS = " ▏▎▍▌▋▊▉"


def title_of(flow: Flow, finding: str) -> str:
    """A finding's title on one line; its id where the flow does not declare it."""
    declared = flow.findings.get(finding)
    if declared is not None:
        return one_line(declared.title)
    return "Inconclusive: the readings do not settle it" if finding == INCONCLUSIVE else finding


def advised(flow: Flow, conclusion: Conclusion) -> Finding | None:
    """The finding whose confirmation and rivals are told: the one found, or the best where none is."""
    if conclusion.finding != INCONCLUSIVE:
        return flow.findings.get(conclusion.finding)
    return flow.findings.get(conclusion.ranked[0].finding) if conclusion.ranked else None


def bar(probability: float, width: int) -> str:
    """A probability as a bar of `width` cells; its empty part stays visible without colour."""
    eighths = round(max(0.0, min(probability, 1.0)) * width * 8)
    full, rest = divmod(eighths, 8)
    drawn = "█" * full + (_EIGHTHS[rest] if rest else "")
    return drawn + "·" * (width - len(drawn))


def sureness(flow: Flow, conclusion: Conclusion) -> str:
    """How sure the finding is, with the flow's own titles on one line."""
    return certainty(conclusion, lambda step: one_line(flow.steps[step].title))


def evidence_lines(flow: Flow, conclusion: Conclusion, width: int) -> list[Content]:
    """What the finding means and why it is said: ranking, signs, what was ruled out, what else may be."""
    return [
        *_meaning(flow, conclusion, width),
        *_ranking(flow, conclusion, width),
        *_signs(flow, conclusion, width),
        *_beside(flow, conclusion, width),
        *_ruled_out(flow, conclusion, width),
    ]


def _meaning(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    found = flow.findings.get(conclusion.finding)
    if found is not None:
        yield from hanging(Content(plain(found.means)), width)
    if conclusion.finding == INCONCLUSIVE:
        yield from hanging(Content(_why_open(flow, conclusion)), width)
    if conclusion.interrupted:
        text = "A limit was passed and the procedure was cut short: this rests on fewer readings."
        yield from hanging(Content.styled(text, "bold"), width, "! ")


def _why_open(flow: Flow, conclusion: Conclusion) -> str:
    """Why no finding is named, in the flow's own limits."""
    ranked, limits = conclusion.ranked, flow.limits
    if conclusion.outside is not None:
        return "Something outside the candidates explains the readings far better than the best of them."
    if not ranked:
        return "Every candidate was ruled out: look again at the readings that ruled them out."
    best = title_of(flow, ranked[0].finding)
    if ranked[0].probability < limits.settled:
        return (
            f"The best, {best}, reaches {percent(ranked[0].probability)}; "
            f"a finding is named from {percent(limits.settled)}. Replace no part on this."
        )
    return f"{best} does not lead the second by {limits.lead:g} to 1. Replace no part on this."


def _ranking(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    if not conclusion.ranked or conclusion.proved_by is not None:
        return
    yield from heading("How likely")
    told = [one for place, one in enumerate(conclusion.ranked) if place < 2 or one.probability >= WORTH_A_BAR]
    for place, one in enumerate(told, 1):
        yield from _candidate(flow, place, one, width)
    rest = "; ".join(title_of(flow, one.finding) for one in conclusion.ranked[len(told) :])
    if rest:
        yield from hanging(Content.styled(f"under 1 % each: {rest}", "$quiet"), width, "   ")


def _candidate(flow: Flow, place: int, one: Ranked, width: int) -> list[Content]:
    """Bar, probability and title on one line, or (narrow) the title above its bar."""
    title = Content.styled(title_of(flow, one.finding), "bold" if place == 1 else "")
    share = Content.assemble((bar(one.probability, BAR), "$text-primary"), f" {percent(one.probability)}")
    if width < ONE_LINE:
        return [*hanging(title, width, f"{place}. "), *hanging(share, width, "   ")]
    lead = Content.assemble(f"{place}. ", share).pad_right(BAR + 14 - len(f"{place}. {share.plain}"))
    first, *more = hanging(title, width, " " * (BAR + 15))
    return [Content.assemble(lead, " ", first[BAR + 15 :]), *more]


def _signs(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    if conclusion.proved_by is not None or not conclusion.ranked:
        return
    yield from heading("What speaks for and against")
    for place, one in enumerate(conclusion.ranked[:2], 1):
        yield from hanging(Content.styled(title_of(flow, one.finding), "bold"), width, f"{place}. ")
        for spoken in one.for_[:SIGNS_SHOWN]:
            yield from _sign("+ for", spoken, "$text-success", width)
        for spoken in one.against[:SIGNS_SHOWN]:
            yield from _sign("− against", spoken, "$text-warning", width)
        if not one.for_ and not one.against:
            yield from hanging(Content.styled("No sign spoke for or against it.", "$quiet"), width, "   ")


def _sign(side: str, spoken: Spoken, style: str, width: int) -> list[Content]:
    text = Content.assemble((side, style), f" {odds(spoken.odds)}: {one_line(spoken.says)}")
    return hanging(text, width, "   ", "     ")


def _beside(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    if conclusion.also is not None:
        yield from heading("Also")
        text = (
            f"{title_of(flow, conclusion.also)}. The finding above does not account for all that was read, "
            "and two faults at once are ordinary. Measure again after the repair."
        )
        yield from hanging(Content(text), width)
        for spoken in conclusion.also_for[:SIGNS_SHOWN]:
            yield from _sign("+ for", spoken, "$text-success", width)
    if conclusion.held_back is not None:
        yield from heading("Ranks first, and is not told")
        held = conclusion.held_back
        yield from hanging(Content(f"{title_of(flow, held.finding)}: {one_line(held.because)}"), width)
    if conclusion.outside is not None:
        yield from heading("Outside the candidates")
        text = f"{title_of(flow, conclusion.outside)}. It fits the readings better than any candidate."
        yield from hanging(Content(text), width)


def _ruled_out(flow: Flow, conclusion: Conclusion, width: int) -> Iterable[Content]:
    if conclusion.ruled_out:
        yield from heading("Ruled out")
    for ruled in conclusion.ruled_out:
        step = flow.steps.get(ruled.step)
        where = f", at {one_line(step.title)}" if step is not None else ""
        because = f": {one_line(ruled.because)}" if ruled.because else ""
        yield from hanging(Content(f"{title_of(flow, ruled.finding)}{where}{because}"), width, "✕ ")
