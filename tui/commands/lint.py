"""`loadstep lint`: check flow files and list every problem with its place and remedy; or list the rules."""

from __future__ import annotations

import gc
import json
from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

from engine.flow.library import NoSuchFlow, find
from engine.flow.lint.registry import RULES
from engine.flow.lint.run import lint
from engine.flow.lint.waivers import UNUSED_WAIVER_RULE
from engine.flow.lint.words import FILE, WordsError, read_words
from engine.flow.problem import Problem
from engine.flow.suggest import counted
from engine.flow.words.problems import RULES as WORD_RULES
from tui.commands.exit_codes import BAD_INPUT, ERRORS, GOOD
from tui.commands.folder import data_folder
from tui.commands.language import chosen_language
from tui.commands.output import complain, say, wrapped
from tui.commands.refusal import Refusal


def run(args: Namespace) -> int:
    if args.rules:
        return _list_rules(args.json)
    if not args.files:
        raise Refusal("lint needs FILE: a flow file, or a flow that `loadstep flows` lists.")
    gc.disable()  # nearly all that a flow is made of lives until the end; looking for garbage costs a third
    words = _words(args.words)
    codes = [_lint(name, words, args) for name in args.files]
    return max(codes)


def _lint(name: str, words: Sequence[str], args: Namespace) -> int:
    code, problems = _problems(name, words, chosen_language(args.language))
    for problem in problems:
        say(json.dumps(_plain(problem)) if args.json else str(problem))
    errors = sum(problem.rule is None for problem in problems)
    if not problems:
        complain(f"{name}: no problems.")
    elif not errors:
        complain(f"{name}: {counted(len(problems), 'warning')}, no errors.")
    elif code == ERRORS:
        complain(f"{name}: {counted(errors, 'error')}; warnings are looked for once they are mended.")
    return ERRORS if args.strict and problems and code == GOOD else code


def _problems(name: str, words: Sequence[str], language: str | None) -> tuple[int, Sequence[Problem]]:
    try:
        problems = lint(find(name, data_folder(name)).path, words, language or None)
    except NoSuchFlow as missing:
        return BAD_INPUT, _unreadable(name, missing)
    return (ERRORS if any(problem.rule is None for problem in problems) else GOOD), problems


def _unreadable(name: str, missing: NoSuchFlow) -> Sequence[Problem]:
    """Why there is nothing to check: no such file, or a folder or device of that name."""
    path = Path(name)
    try:
        there = path.exists()
    except (OSError, ValueError):
        there = False
    return lint(path) if there else [Problem(name, None, None, str(missing).rstrip("."))]


def _words(file: str | None) -> tuple[str, ...]:
    """The words not wanted: from the file named, else from the list in the data folder if there is one."""
    from engine.job.store.place import default_folder

    path = Path(file) if file is not None else default_folder() / FILE
    if file is None and not path.is_file():
        return ()
    try:
        return read_words(path)
    except WordsError as error:
        raise Refusal(str(error)) from None


def _plain(problem: Problem) -> dict[str, object]:
    return {
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
        "what": problem.what,
        "hint": problem.hint,
        "rule": problem.rule,
        "severity": problem.severity,
    }


def _list_rules(as_json: bool) -> int:
    told = [(rule.name, rule.why, rule.remedy) for rule in (*RULES, UNUSED_WAIVER_RULE)]
    told += [(name, *texts) for name, texts in WORD_RULES.items()]
    for name, why, remedy in told:
        if as_json:
            say(json.dumps({"rule": name, "why": why, "remedy": remedy}))
            continue
        say(name)
        for text in (f"why: {why}", f"remedy: {remedy}"):
            for line in wrapped(text, "    ", "        "):
                say(line)
    return GOOD
