"""`loadstep new`: write a small flow to begin from, with golden walks beside it."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from engine.flow.starter.write import NotWritten, write_starter
from engine.flow.suggest import reason
from tui.commands.exit_codes import GOOD
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal


def run(args: Namespace) -> int:
    folder = Path(args.folder)
    try:
        written = write_starter(args.name, folder)
    except NotWritten as refused:
        raise Refusal(str(refused)) from None
    except (OSError, ValueError) as error:
        raise Refusal(
            f"{folder} cannot be written to ({reason(error)}); name another folder with --in."
        ) from None
    for path in written:
        say(str(path))
    complain(f"Now walk it and change it: loadstep try {written[0]} --watch")
    return GOOD
