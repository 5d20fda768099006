"""`loadstep lint`: check flow files and list every problem with its place and remedy."""

from __future__ import annotations

import json
from argparse import Namespace
from dataclasses import asdict

from engine.flow.library import find
from engine.flow.load import FlowErrors, load_flow
from engine.flow.problem import Problem
from tui.commands.exit_codes import ERRORS, GOOD
from tui.commands.output import complain, say


def run(args: Namespace) -> int:
    problems = 0
    for name in args.files:
        found = _problems(name)
        for problem in found:
            say(json.dumps(asdict(problem)) if args.json else str(problem))
        if not found:
            complain(f"{name}: no problems.")
        problems += len(found)
    return ERRORS if problems else GOOD


def _problems(name: str) -> tuple[Problem, ...]:
    try:
        load_flow(find(name))
    except FlowErrors as errors:
        return errors.problems
    return ()
