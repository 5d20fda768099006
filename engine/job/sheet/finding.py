"""The finding with its evidence, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine.flow.model import INCONCLUSIVE, Finding
from engine.job.certainty import certainty, odds, percent
from engine.job.session.outcome import differ, stored_conclusion, stored_conclusion_event
from engine.job.sheet.blocks import Block, Bullets, Table, Text
from engine.job.sheet.teller import Teller, clean
from engine.job.state import Conclusion, Spoken

SIGNS_TOLD = 4
"""For and against each candidate; the strongest come first."""

LOCAL_RULES = (
    "Refrigerant is handled only by certified people with machines made for it, and all of it is recovered. "
    "Where the vehicle maker or local rules ask for more, that comes first."
)


def evidence(teller: Teller) -> Iterator[Block]:
    """What was concluded, as written down then; what this version concludes beside it if it differs."""
    stored, now = stored_conclusion(teller.events), teller.walk.conclusion
    conclusion = stored or now
    if conclusion is None:
        yield Text("No finding: the procedure has not come to its conclusion.")
        return
    yield from _told(teller, conclusion)
    if stored is not None and differ(stored, now):
        yield from _beside(teller, now)


def to_do(teller: Teller) -> Iterator[Block]:
    """How to confirm, repair and verify; how to part it from its rivals."""
    conclusion = stored_conclusion(teller.events) or teller.walk.conclusion
    advised = _advised(teller, conclusion)
    if advised is None or conclusion is None:
        return
    if advised.id != conclusion.finding:
        yield Text(
            f"The best candidate is {teller.finding(advised.id)}. Replace no part on this; confirm it first."
        )
    for title, items in (
        ("Confirm", advised.confirm),
        ("Repair", advised.repair),
        ("Verify", advised.verify),
    ):
        if items and (title == "Confirm" or advised.id == conclusion.finding):
            yield Bullets(title, tuple(clean(item) for item in items))
    rivals = tuple(f"{teller.finding(name)}: {clean(test)}" for name, test in advised.rivals.items())
    if rivals:
        yield Bullets("Rivals, and what parts them", rivals)
    if advised.note:
        yield Text(clean(advised.note))
    yield Text(LOCAL_RULES)


def _told(teller: Teller, conclusion: Conclusion) -> Iterator[Block]:
    sure = certainty(conclusion, teller.step)
    yield Text(f"{teller.finding(conclusion.finding)}{f', {sure}' if sure else ''}", strong=True)
    found = teller.flow.findings.get(conclusion.finding)
    if found is not None:
        yield Text(clean(found.means))
    if conclusion.interrupted:
        yield Text(
            "A limit was passed and the procedure was cut short: this rests on fewer readings.", strong=True
        )
    if conclusion.ranked and conclusion.proved_by is None:
        yield _ranking(teller, conclusion)
    if conclusion.also is not None:
        yield Text(f"Also likely, because the first does not explain all: {teller.finding(conclusion.also)}")
        yield Text(f"Speaks for it: {_signs(conclusion.also_for)}.")
    if conclusion.outside is not None:
        yield Text(
            f"Beyond the candidates, {teller.finding(conclusion.outside)} explains the readings far better "
            "than the best of them."
        )
    if conclusion.held_back is not None:
        held = conclusion.held_back
        name = teller.finding(held.finding)
        yield Text(f"Not told, though it ranks first: {name}, for {clean(held.because)}.")
    if conclusion.ruled_out:
        items = [
            f"{teller.finding(one.finding)}: {clean(one.because)} (at: {teller.step(one.step)})"
            for one in conclusion.ruled_out
        ]
        yield Bullets("Ruled out", tuple(items))
    if conclusion.next_measurement is not None:
        first, second = (teller.finding(name) for name in conclusion.next_measurement.separates)
        label = teller.label(conclusion.next_measurement.reading)
        yield Text(f"{label} would part {first} from {second} best, and was not measured.")


def _ranking(teller: Teller, conclusion: Conclusion) -> Table:
    rows = [
        (
            teller.finding(one.finding),
            percent(one.probability),
            _signs(one.for_),
            _signs(one.against),
        )
        for one in conclusion.ranked
    ]
    return Table(("Candidate", "Probability", "Speaks for it", "Speaks against it"), tuple(rows))


def _signs(signs: tuple[Spoken, ...]) -> str:
    told = "; ".join(f"{clean(sign.says)} ({odds(sign.odds)})" for sign in signs[:SIGNS_TOLD])
    rest = len(signs) - SIGNS_TOLD
    return f"{told}; {rest} weaker" if rest > 0 else told or "nothing"


def _beside(teller: Teller, now: Conclusion | None) -> Iterator[Block]:
    event = stored_conclusion_event(teller.events)
    then = _versions(event.detail.get("versions") if event else None)
    yield Text(
        f"The above was concluded with {then}. This version draws another conclusion from the same answers:",
        strong=True,
    )
    if now is None:
        yield Text("none; the procedure would go on.")
    else:
        yield from _told(teller, now)


def _versions(plain: object) -> str:
    if not isinstance(plain, Mapping):
        return "another version"
    told = (plain.get(name, "?") for name in ("program", "tables", "bands"))
    return clean("loadstep {}, tables {}, bands {}".format(*told))


def _advised(teller: Teller, conclusion: Conclusion | None) -> Finding | None:
    if conclusion is None:
        return None
    name = conclusion.finding
    if name == INCONCLUSIVE and conclusion.ranked:
        name = conclusion.ranked[0].finding
    return teller.flow.findings.get(name)
