"""A trial's figures as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from engine.job.second import HEALTHY
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.score import Score, likely_range
from engine.vehicle.trial.tally import Costs, FleetTally, SeverityBin
from engine.vehicle.trial.worst import Worst, faults_in_words, filters

_HEADS = ("correct", "misdiag.", "missed", "false al.", "no answer", "first two")
_NAME_WIDTH, _COUNT_WIDTH, _SHARE_WIDTH = 28, 9, 11
_WIDTH = 100


def head(plan: Plan) -> Iterator[str]:
    """What was tried."""
    flow = plan.flow
    yield f"Trial of {flow.title} ({flow.name}, revision {flow.revision}, {flow.hash[:12] or 'made up'})"
    yield f"  {plan.vehicles} vehicles a fleet, seed {plan.seed}, {' '.join(filters(plan))}"


def fleet_lines(tally: FleetTally) -> Iterator[str]:
    """Everything about one fleet."""
    yield ""
    yield f"Fleet {tally.fleet}" + (f", stopped after {tally.overall.vehicles}" if tally.stopped else "")
    if not tally.overall.vehicles:
        return
    yield from _scores(tally)
    yield from _confusion(tally)
    yield from _rivals(tally)
    yield from pair_lines(tally)
    if tally.costs:
        yield from _costs(tally.costs)
    yield from _calibration(tally)
    yield from _listed("Steps never reached", tally.never_reached)
    never = (f"{step}: {when}" for step, when in tally.never_taken)
    yield from _section("Rules never taken (of the steps reached)", never)
    yield from _worst(tally.worst)


def percent(part: float | None) -> str:
    return "-" if part is None else f"{100 * part:.1f} %"


def _scores(tally: FleetTally) -> Iterator[str]:
    yield _row("", "vehicles", _HEADS)
    yield _score("all", tally.overall)
    if tally.healthy.vehicles and tally.faulty.vehicles:
        yield _score("with a fault", tally.faulty)
        yield _score("healthy", tally.healthy)
    hits = tally.overall.outcomes[Outcome.CORRECT]
    low, high = likely_range(hits, tally.overall.vehicles)
    yield f"  correct lies with 95 % confidence within {percent(low)} and {percent(high)}"
    if tally.needless_second:
        yield f"  {tally.needless_second} of them were told a second fault that was not there"
    yield from _bins("  by severity", tally.bins)
    yield "  by fault"
    for fault in tally.faults:
        if fault.finding != HEALTHY:
            yield _score(fault.finding, fault.score)
            if len(fault.bins) > 1:
                yield from (_score(f"  {_bin(one)}", one.score) for one in fault.bins)


def _bins(title: str, bins: Iterable[SeverityBin]) -> Iterator[str]:
    told = [_score(_bin(one), one.score) for one in bins]
    if told:
        yield title
        yield from told


def _bin(one: SeverityBin) -> str:
    return "there or not" if one.low is None else f"{one.low:.1f}..{one.high:.1f}"


def _score(name: str, score: Score) -> str:
    shares = (*(score.share(outcome) for outcome in Outcome), score.first_two_share)
    return _row(f"  {name}", str(score.vehicles), map(percent, shares))


def _row(name: str, count: str, cells: Iterable[str]) -> str:
    told = "".join(cell.rjust(_SHARE_WIDTH) for cell in cells)
    return f"  {name.ljust(_NAME_WIDTH)}{count.rjust(_COUNT_WIDTH)}{told}"


def _confusion(tally: FleetTally) -> Iterator[str]:
    """What each fault was called, the commonest first; the matrix as a picture is in the HTML page."""
    truths = dict.fromkeys(truth for truth, _ in sorted(tally.confusion))
    lines = []
    for truth in truths:
        told = {name: count for (one, name), count in tally.confusion.items() if one == truth}
        ordered = sorted(told, key=lambda name: (-told[name], name))
        lines.append(f"{truth}: {', '.join(f'{name} {told[name]}' for name in ordered)}")
    yield from _section("Truth, and what was told (vehicles)", lines)


def _rivals(tally: FleetTally) -> Iterator[str]:
    lines = (
        f"{' / '.join(one.rivals)}: {percent(one.singly / one.vehicles)} singly, "
        f"{percent(one.as_pair / one.vehicles)} as a pair"
        for one in tally.rivals
    )
    yield from _section("Rivals that gauges alone do not part", lines)


def pair_lines(tally: FleetTally) -> Iterator[str]:
    """What came of vehicles with two faults; nothing where there are none."""
    pairs = tally.pairs
    if pairs is None:
        return
    lines = [f"one of the two named first: {percent(pairs.first.share(Outcome.CORRECT))}"]
    if pairs.free:
        lines.append(
            f"the procedure ran to its end ({pairs.free}): both named {percent(pairs.both / pairs.free)}"
        )
    if pairs.stopping:
        lines.append(
            f"a fault stopped it ({pairs.stopping}): named {percent(pairs.stopper / pairs.stopping)}, "
            "and the second at once or after that repair "
            f"{percent(pairs.after_repair / pairs.stopper if pairs.stopper else None)}"
        )
    yield from _section("Two faults at once", lines)


def _costs(costs: Costs) -> Iterator[str]:
    def told(cost: object) -> str:
        steps, readings, minutes = (getattr(cost, name) for name in ("steps", "readings", "minutes"))
        return f"{steps:.1f} steps, {readings:.1f} readings, {minutes:.1f} min of settling"

    lines = [told(costs.mean)]
    if costs.twice:
        saved = costs.saved
        lines.append(f"on {costs.twice} vehicles asked everything: {told(costs.of_everything)}")
        lines.append(f"on the same ones as the flow asks: {told(costs.of_twice)}")
        lines.append(
            f"spared: {percent(saved.steps)} of the steps, {percent(saved.readings)} of the readings, "
            f"{percent(saved.minutes)} of the minutes"
        )
    yield from _section("Cost of a diagnosis, on average", lines)


def _calibration(tally: FleetTally) -> Iterator[str]:
    told = tally.calibration
    if told.brier is None:
        return
    lines = [
        f"{100 * one.low:.0f}..{100 * one.high:.0f} %: said {percent(one.said)}, came true "
        f"{percent(one.came_true)} ({one.vehicles} vehicles)"
        for one in told.bins
    ]
    lines.append(f"Brier score {told.brier:.3f}; {told.proved} findings were proved and carry no probability")
    yield from _section("Does it come true as often as it is said (weighted to the flow's priors)", lines)


def _worst(worst: Iterable[Worst]) -> Iterator[str]:
    lines = []
    for one in worst:
        sure = "proved" if one.result.told.proved else percent(one.sure)
        lines.append(f"{faults_in_words(one.result.faults)}: told {one.result.told.finding}, {sure}")
        lines.append(f"    {one.command}")
    yield from _section("Worst cases", lines, whole=True)


def _listed(title: str, words: Iterable[str]) -> Iterator[str]:
    joined = ", ".join(words)
    yield from _section(title, [joined] if joined else [])


def _section(title: str, lines: Iterable[str], *, whole: bool = False) -> Iterator[str]:
    """A title and its lines, wrapped unless they are to be copied `whole`; nothing if there is no line."""
    told = list(lines)
    if told:
        yield f"  {title}"
    for line in told:
        if whole:
            yield f"    {line}"
        else:
            yield from wrap(line, _WIDTH, initial_indent="    ", subsequent_indent="      ")
