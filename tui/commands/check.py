"""`loadstep check`: run golden walks and tell where they come to something else; `--accept` rewrites them."""

from __future__ import annotations

import json
from argparse import Namespace
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from engine.job.golden.accept import NotAccepted, accept
from engine.job.golden.checking import Checked, State, check
from engine.job.golden.difference import told
from engine.job.golden.places import walks_in
from tui.commands.exit_codes import BAD_INPUT, ERRORS, GOOD
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal

_CODES = {State.HOLDS: GOOD, State.DIFFERS: ERRORS, State.NEW: ERRORS, State.BROKEN: BAD_INPUT}
_WORDS = {State.HOLDS: "as expected", State.DIFFERS: "different", State.NEW: "new", State.BROKEN: "broken"}


def run(args: Namespace) -> int:
    results = [
        (walk, _handle(walk, accepting=args.accept, as_json=args.json))
        for place in args.places
        for walk in map(check, _walks(place))
    ]
    if not args.json:
        _sum_up([walk for walk, _ in results], sum(accepted for _, accepted in results))
    return max(GOOD if accepted else _CODES[walk.state] for walk, accepted in results)


def _walks(place: str) -> Sequence[str]:
    try:
        found = walks_in(Path(place))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise Refusal(
            f"{place} cannot be read ({reason}); name a folder of walks, or a replay file."
        ) from None
    if not found:
        raise Refusal(f"there is no walk in {place}; a walk is a .yaml file with facts: and expect:.")
    return [str(path) for path in found]


def _handle(walk: Checked, accepting: bool, as_json: bool) -> bool:
    """Tell of one walk, then rewrite it if it is to be accepted; whether it was."""
    if not as_json:
        for line in told(walk):
            (complain if walk.state is State.BROKEN else say)(line)
    accepted = accepting and walk.state in (State.DIFFERS, State.NEW)
    if accepted:
        _accept(walk)
    if as_json:
        say(json.dumps(_object(walk, accepted)))
    elif accepted:
        say("  accepted")
    return accepted


def _accept(walk: Checked) -> None:
    try:
        accept(walk)
    except NotAccepted as refused:
        raise Refusal(str(refused)) from None
    except OSError as error:
        raise Refusal(f"{walk.file} could not be written: {error.strerror or error}.") from None


def _object(walk: Checked, accepted: bool) -> dict[str, object]:
    expected = walk.expected
    return {
        "format": 1,
        "file": walk.file,
        "state": str(walk.state),
        "finding": walk.finding or None,
        "path": list(walk.path),
        "expected": {"finding": expected.finding, "path": expected.path} if expected else None,
        "problems": [asdict(problem) for problem in walk.problems],
        "accepted": accepted,
    }


def _sum_up(walks: Sequence[Checked], accepted: int) -> None:
    counts = Counter(walk.state for walk in walks)
    parts = [f"{counts[state]} {_WORDS[state]}" for state in State if counts[state]]
    end = f"; {accepted} accepted" if accepted else ""
    complain(f"{len(walks)} {'walk' if len(walks) == 1 else 'walks'}: {', '.join(parts)}{end}.")
