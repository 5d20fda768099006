"""`loadstep replay`: walk jobs from facts in files, and print what each concludes."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import flows
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.result import failure, result
from engine.job.replay.run import replay_file
from tui.commands.account import account
from tui.commands.exit_codes import BAD_INPUT, BUG, GOOD
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal

_DEMO = "commanded_but_weak.yaml"


def run(args: Namespace) -> int:
    files = [*args.files, *([_demo()] if args.demo else [])]
    if not files:
        raise Refusal("name at least one replay file, or use --demo for an example that comes along.")
    return max([_replay(file, as_json=args.json) for file in files])


def _demo() -> str:
    return str(Path(flows.__file__).parent / "examples" / _DEMO)


def _replay(file: str, as_json: bool) -> int:
    """Walk one file and print the outcome; whatever happens, the next file still has its turn."""
    try:
        replayed = replay_file(file)
        _print(as_json, result(replayed.file, replayed.walk, replayed.given), account(replayed))
    except ReplayErrors as errors:
        _print_failure(as_json, file, errors)
        return BAD_INPUT
    except (BrokenPipeError, Refusal):
        raise  # the output is gone: no file after this one could be told of
    except Exception as error:
        from tui.commands.crash import report_crash

        report_crash(error)
        mistake = "loadstep made a mistake of its own with this file"
        _print_failure(
            as_json, file, ReplayErrors([ReplayProblem("bug", file, mistake, "see the crash report")])
        )
        return BUG
    return GOOD


def _print(as_json: bool, outcome: dict[str, Any], lines: Iterable[str]) -> None:
    if as_json:
        say(json.dumps(outcome, allow_nan=False))
        return
    for line in lines:
        say(line)


def _print_failure(as_json: bool, file: str, errors: ReplayErrors) -> None:
    if as_json:
        say(json.dumps(failure(file, errors)))
        return
    for problem in errors.problems:
        complain(str(problem))
