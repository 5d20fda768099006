"""`loadstep` alone: the start screen."""

from __future__ import annotations

from argparse import Namespace

from tui.commands.language import chosen_language
from tui.commands.terminal import open_screen


def run(args: Namespace) -> int:
    return open_screen(language=chosen_language(args.language))
