"""The command line's grammar: every command and option, without importing what carries it out."""

from __future__ import annotations

import argparse
import difflib
import re
import sys
from collections.abc import Sequence
from typing import NoReturn

from tui.commands.exit_codes import BAD_INPUT
from tui.commands.output import complain

_ABOUT = (
    "Walks a technician through diagnosing a vehicle air-conditioning system whose compressor can change "
    "its stroke. Without a command: the start screen."
)
_ENDING = (
    "exit codes: 0 good, 1 the thing checked has errors, 2 bad usage or input, 70 our bug. "
    "Jobs are kept in the user's data folder; LOADSTEP_HOME names another. "
    "LOADSTEP_FLOWS names folders of shared flows."
)
_LANGUAGE = "say flows in this language where there are words in it, from now on; `own` for each flow's own"
_NEGATIVE = re.compile(r"-[\d.,]")
_TAKE_NEGATIVES = ("--elevation", "--ambient")
_CHOICE = re.compile(r"invalid choice: '(?P<given>.*?)' \(choose from (?P<known>.*)\)")


class _Parser(argparse.ArgumentParser):
    """argparse with our words: one sentence, a suggestion, and where the help is."""

    def error(self, message: str) -> NoReturn:
        complain(f"{self.prog}: {_in_our_words(message)} See `{self.prog} --help`.")
        sys.exit(BAD_INPUT)


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """The arguments as a namespace with `command` (empty for the start screen); exits 2 on bad usage."""
    return _parser().parse_args(_shield_negative_numbers(argv))


def _parser() -> _Parser:
    parser = _Parser(prog="loadstep", description=_ABOUT, epilog=_ENDING, allow_abbrev=False)
    parser.add_argument("--version", action="store_true", help="print the version and end")
    parser.add_argument("--language", metavar="L", default=None, help=_LANGUAGE)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    parser.set_defaults(command="")

    walk = _command(commands, "walk", "start a job at once")
    walk.add_argument(
        "flow", nargs="?", default="", metavar="FLOW", help="a flow's name or file (the main flow)"
    )
    _add_language(walk, _LANGUAGE)

    replay = _command(commands, "replay", "walk from facts in a file and print the finding")
    replay.add_argument("files", nargs="*", metavar="FILE", help="replay files (YAML, format 1)")
    replay.add_argument("--json", action="store_true", help="one JSON object a file, one line each")
    replay.add_argument("--demo", action="store_true", help="replay an example that comes with the program")

    lint = _command(commands, "lint", "check flow files")
    lint.add_argument(
        "files", nargs="*", metavar="FILE", help="flow files, or names of flows that come along"
    )
    lint.add_argument("--strict", action="store_true", help="warnings count as errors in the exit code")
    lint.add_argument("--words", metavar="FILE", help="words not wanted in flows, one a line")
    lint.add_argument("--rules", action="store_true", help="list the rules, why they are, and what to do")
    _add_language(lint, "what is not said in this language (all there are words in)")
    lint.add_argument("--json", action="store_true", help="one JSON object a problem, one line each")

    flows = _command(commands, "flows", "list the flows there are and where each comes from")
    flows.add_argument("--add", metavar="FOLDER", help="list the flows of this folder too, from now on")
    flows.add_argument("--drop", metavar="FOLDER", help="no longer list the flows of this folder")
    _command(commands, "jobs", "list the jobs kept on this machine")

    sheet = _command(commands, "sheet", "write a job's sheet")
    sheet.add_argument("job", metavar="JOB", help="the job's number, as `loadstep jobs` lists it")
    sheet.add_argument("--out", metavar="FILE", help="FILE.html or FILE.md (Markdown on standard output)")
    _add_language(sheet, "what its texts are said in (as chosen for the screen)")

    _add_authoring(commands)
    _add_draw(commands)
    _add_trial(commands)

    saturation = _command(commands, "saturation", "dew and bubble state of a refrigerant")
    saturation.add_argument("refrigerant", metavar="REFRIGERANT", help="such as R-1234yf")
    saturation.add_argument(
        "given", metavar="VALUE", help='a pressure or temperature: "40 psi", "2.8 bar", "10 degC"'
    )
    saturation.add_argument(
        "--elevation", metavar="HEIGHT", help='such as "1600 m"; gauge pressure hangs on it'
    )
    saturation.add_argument("--json", action="store_true", help="one JSON object, in SI units")
    return parser


def _add_authoring(commands: argparse._SubParsersAction[_Parser]) -> None:
    schema = _command(commands, "schema", "print the JSON Schema that editors check flow files by")
    schema.add_argument("kind", nargs="?", default="flow", metavar="KIND", help="flow, part or replay (flow)")

    page = _command(commands, "help", "print a page: flow-language")
    page.add_argument("topic", nargs="?", default="", metavar="TOPIC", help="flow-language (lists the pages)")

    new = _command(commands, "new", "write a small, complete, commented flow to begin from")
    new.add_argument("name", metavar="NAME", help="letters, digits, - and _")
    new.add_argument("--in", dest="folder", default=".", metavar="FOLDER", help="where to write it (here)")

    trying = _command(commands, "try", "walk a draft of a flow on the screen; no job is kept")
    trying.add_argument("flow", metavar="FLOW", help="the flow's file, or the name of a shipped flow")
    trying.add_argument("--from", dest="step", default="", metavar="STEP", help="begin at this step")
    trying.add_argument(
        "--facts", default="", metavar="FILE", help="a replay file: what it gives is offered, or known before"
    )
    trying.add_argument("--watch", action="store_true", help="read the flow again whenever it is saved")

    check = _command(commands, "check", "run golden walks: facts in, path and finding out")
    check.add_argument("places", nargs="+", metavar="DIR", help="folders of walks, or single replay files")
    check.add_argument(
        "--accept", action="store_true", help="rewrite what the walks expect, after showing it"
    )
    check.add_argument("--json", action="store_true", help="one JSON object a walk, one line each")


def _add_draw(commands: argparse._SubParsersAction[_Parser]) -> None:
    draw = _command(commands, "draw", "draw a whole flow: its trunk, branches, cautions and load changes")
    draw.add_argument(
        "flow", nargs="?", default="", metavar="FLOW", help="a flow's name or file (the main flow)"
    )
    add = draw.add_argument
    add("--format", metavar="FORMAT", help="text, mermaid or svg (as FILE ends, else text)")
    add("--out", metavar="FILE", help="FILE.txt, FILE.mmd or FILE.svg (standard output)")
    _add_language(draw, "what its texts are said in (the flow's own)")
    add("--job", metavar="JOB", help="lay the path of a stored job over it")
    add("--trial", metavar="FILE", help="lay the traffic of a trial over it: what `trial --json` printed")


def _add_trial(commands: argparse._SubParsersAction[_Parser]) -> None:
    trial = _command(commands, "trial", "try a flow over many simulated vehicles with known faults")
    trial.add_argument(
        "flow", nargs="?", default="", metavar="FLOW", help="a flow's name or file (the main flow)"
    )
    add = trial.add_argument
    add("--vehicles", default="2000", metavar="N", help="vehicles of each fleet (2000)")
    add("--seed", default="1", metavar="S", help="the same seed draws the same vehicles (1)")
    add(
        "--fault",
        nargs="+",
        action="extend",
        default=[],
        metavar="F",
        help="only these findings; no-fault too",
    )
    add("--severity", default="0.4..1", metavar="A..B", help="of the faults, within 0..1 (0.4..1)")
    add("--ambient", metavar="A..B", help='such as 15..42 or "60..105 degF" (all that the fleet meets)')
    add("--refrigerant", metavar="R", help="such as R-1234yf (as the fleet has them)")
    add("--pairs", action="store_true", help="two faults in every vehicle")
    add("--skipped-readings", default="0", metavar="P", help="chance 0..1 that a reading is left out (0)")
    add("--fleet", nargs="+", action="extend", default=[], metavar="NAME", help="which fleets (all)")
    add("--jobs", metavar="J", help="processes at work (one a processor)")
    add("--json", action="store_true", help="one JSON object")
    add("--out", metavar="FILE.html", help="write a page with the charts and the confusion matrix")
    add("--show", metavar="I", help="print the whole job of vehicle number I instead")
    add("--flow-hash", default="", metavar="HASH", help="say if the flow is not the one with this hash")
    add("--weigh", action="store_true", help="propose odds for the flow's signs, fitted to other vehicles")
    add(
        "--propose", action="store_true", help="with --weigh: odds for pairs the flow says nothing about, too"
    )


def _command(commands: argparse._SubParsersAction[_Parser], name: str, what: str) -> _Parser:
    return commands.add_parser(
        name, help=what, description=what[0].upper() + what[1:] + ".", allow_abbrev=False
    )


def _add_language(parser: _Parser, what: str) -> None:
    # Without a default of its own: what was given before the command must not be lost.
    parser.add_argument("--language", metavar="L", default=argparse.SUPPRESS, help=what)


def _shield_negative_numbers(argv: Sequence[str]) -> list[str]:
    """argparse takes `-10degC` for an option; after `--`, or joined to its option by `=`, it does not."""
    if "--" in argv:
        return list(argv)
    kept: list[str] = []
    numbers: list[str] = []
    for word in argv:
        if not _NEGATIVE.match(word):
            kept.append(word)
        elif kept and kept[-1] in _TAKE_NEGATIVES:
            kept[-1] += f"={word}"
        else:
            numbers.append(word)
    return [*kept, "--", *numbers] if numbers else kept


def _in_our_words(message: str) -> str:
    found = _CHOICE.search(message)
    if found is None:
        return message[:1].lower() + message[1:].rstrip(".") + "."
    known = [word.strip(" '") for word in found["known"].split(",")]
    near = difflib.get_close_matches(found["given"], known, n=1)
    hint = f" Did you mean `{near[0]}`?" if near else f" Commands: {', '.join(known)}."
    return f"there is no command `{found['given'][:60]}`.{hint}"
