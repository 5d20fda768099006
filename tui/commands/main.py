"""The `loadstep` command: reads the arguments, runs one command, and lets nothing crash into the shell."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Sequence
from importlib import import_module

from tui.commands.exit_codes import BAD_INPUT, BUG, GOOD, PIPE_CLOSED, STOPPED
from tui.commands.grammar import parse
from tui.commands.output import complain, drop_output, flush, say, tolerate_any_encoding
from tui.commands.refusal import Refusal

_MODULES = {"": "start", "try": "try_draft"}
"""Where a command cannot lend its module its name."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit code (see `exit_codes`).

    Each command is a module of this package with `run(args) -> int`, imported only when it is asked for: the
    start screen must not wait for what `lint` or `saturation` need.
    """
    tolerate_any_encoding()
    try:
        code = _run(sys.argv[1:] if argv is None else argv)
    except BrokenPipeError:
        drop_output()
        return PIPE_CLOSED
    except KeyboardInterrupt:
        complain("Stopped.")
        return STOPPED
    return code


def _run(argv: Sequence[str]) -> int:
    args = parse(argv)
    try:
        code = _say_version() if args.version else _run_command(args)
        flush()
        return code
    except Refusal as refusal:
        complain(f"loadstep: {refusal}")
        return BAD_INPUT
    except BrokenPipeError:
        raise
    except Exception as error:
        from tui.commands.crash import report_crash

        report_crash(error)
        return BUG


def _run_command(args: Namespace) -> int:
    name = _MODULES.get(args.command, args.command)
    code: int = import_module(f"tui.commands.{name}").run(args)
    return code


def _say_version() -> int:
    from engine.version import program_version

    say(f"loadstep {program_version()}")
    return GOOD
