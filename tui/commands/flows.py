"""`loadstep flows`: the flows that come with the program."""

from __future__ import annotations

from argparse import Namespace

from engine.flow.index import titles
from tui.commands.exit_codes import GOOD
from tui.commands.output import say, wrapped


def run(args: Namespace) -> int:
    for flow in titles():
        say(f"{flow.name}  revision {flow.revision}  {flow.title}")
        for line in wrapped(flow.about, "    ", "    "):
            say(line)
    return GOOD
