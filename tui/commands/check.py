"""`loadstep check`: run golden walks and tell where they come to something else; `--accept` rewrites them."""

from __future__ import annotations

import json
from argparse import Namespace
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from engine.flow.suggest import reason
from engine.job.golden.accept import NotAccepted, accept
from engine.job.golden.checking import Checked, State, check
from engine.job.golden.difference import told
from engine.job.golden.places import walks_in
from engine.job.golden.result import result
from tui.commands.exit_codes import BAD_INPUT, ERRORS, GOOD
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal

_CODES = {State.HOLDS: GOOD, State.DIFFERS: ERRORS, State.NEW: ERRORS, State.BROKEN: BAD_INPUT}
_WORDS = {State.HOLDS: "as expected", State.DIFFERS: "different", State.NEW: "new", State.BROKEN: "broken"}


def run(args: Namespace) -> int:
    results = [
        _handle(check(file), accepting=args.accept, as_json=args.json)
        for place in args.places
        for file in _files(place)
    ]
    walks = [walk for each in results for walk in each.walks]
    accepted = sum(each.accepted for each in results)
    if not args.json:
        _sum_up(walks, accepted)
    return max(each.code for each in results)


@dataclass(frozen=True, slots=True)
class _Result:
    """The walks of one file, how many of them were accepted, and the exit code they ask for."""

    walks: list[Checked]
    accepted: int
    code: int


def _files(place: str) -> Sequence[str]:
    try:
        found = walks_in(Path(place))
    except (OSError, ValueError) as error:
        raise Refusal(
            f"{place} cannot be read ({reason(error)}); name a folder of walks, or a replay file."
        ) from None
    if not found:
        raise Refusal(f"there is no walk in {place}; a walk is a .yaml file with facts: and expect:.")
    return [str(path) for path in found]


def _handle(walks: list[Checked], accepting: bool, as_json: bool) -> _Result:
    """Tell of the walks of one file, then rewrite those to be accepted."""
    if not as_json:
        for walk in walks:
            for line in told(walk):
                (complain if walk.state is State.BROKEN else say)(line)
    changed = [walk for walk in walks if walk.state in (State.DIFFERS, State.NEW)] if accepting else []
    if changed:
        _accept(changed)
    for walk in walks if as_json else ():
        say(json.dumps(result(walk, accepted=walk in changed)))
    if changed and not as_json:
        say("  accepted")
    codes = [GOOD if walk in changed else _CODES[walk.state] for walk in walks]
    return _Result(walks, len(changed), max(codes))


def _accept(walks: list[Checked]) -> None:
    try:
        accept(walks)
    except NotAccepted as refused:
        raise Refusal(str(refused)) from None
    except OSError as error:
        raise Refusal(f"{walks[0].file} could not be written: {error.strerror or error}.") from None


def _sum_up(walks: Sequence[Checked], accepted: int) -> None:
    counts = Counter(walk.state for walk in walks)
    parts = [f"{counts[state]} {_WORDS[state]}" for state in State if counts[state]]
    end = f"; {accepted} accepted" if accepted else ""
    complain(f"{len(walks)} {'walk' if len(walks) == 1 else 'walks'}: {', '.join(parts)}{end}.")
