"""`loadstep lint`: check flow files and list every problem with its place and remedy."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from engine.flow.library import NoSuchFlow, find
from engine.flow.load import Problem, lint_problems
from tui.commands.exit_codes import BAD_INPUT, ERRORS, GOOD
from tui.commands.folder import data_folder
from tui.commands.output import complain, say


def run(args: Namespace) -> int:
    codes = [_lint(name, as_json=args.json) for name in args.files]
    return max(codes)


def _lint(name: str, as_json: bool) -> int:
    code, problems = _problems(name)
    for problem in problems:
        say(json.dumps(asdict(problem)) if as_json else str(problem))
    if not problems:
        complain(f"{name}: no problems.")
    return code


def _problems(name: str) -> tuple[int, Sequence[Problem]]:
    try:
        problems = lint_problems(find(name, data_folder(name)).path)
    except NoSuchFlow as missing:
        return BAD_INPUT, _unreadable(name, missing)
    return (ERRORS if problems else GOOD), problems


def _unreadable(name: str, missing: NoSuchFlow) -> Sequence[Problem]:
    """Why there is nothing to check: no such file, or a folder or device of that name."""
    path = Path(name)
    try:
        there = path.exists()
    except (OSError, ValueError):
        there = False
    return lint_problems(path) if there else [Problem(name, None, None, str(missing).rstrip("."))]
