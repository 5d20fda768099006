"""`loadstep walk`: begin a job at once, without the start screen."""

from __future__ import annotations

from argparse import Namespace

from engine.flow.library import MAIN_FLOW, NoSuchFlow, find
from tui.commands.folder import data_folder
from tui.commands.language import chosen_language
from tui.commands.refusal import Refusal
from tui.commands.terminal import open_screen, require_terminal


def run(args: Namespace) -> int:
    flow, language = args.flow or MAIN_FLOW, chosen_language(args.language)
    require_terminal()
    try:
        find(flow, data_folder(flow))
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None
    return open_screen(flow, language)
