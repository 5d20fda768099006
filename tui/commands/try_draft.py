"""`loadstep try`: walk a draft of a flow on the screen, and read it again when it is saved."""

from __future__ import annotations

from argparse import Namespace

from engine.flow.library import NoSuchFlow, find
from engine.flow.load import load_flow
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors
from engine.job.draft.opening import Draft, no_such_step
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.job.replay.problem import ReplayErrors
from engine.job.store.place import default_folder
from tui.commands.exit_codes import BAD_INPUT, ERRORS
from tui.commands.folder import data_folder
from tui.commands.output import complain
from tui.commands.refusal import Refusal
from tui.commands.terminal import require_terminal, run_app


def run(args: Namespace) -> int:
    try:
        source = find(args.flow, data_folder(args.flow))
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None
    draft = Draft(source.path, args.step, args.facts)
    try:
        flow = load_flow(source)
    except FlowErrors as errors:
        if not args.watch:  # on the screen nobody would mend it
            complain(str(errors))
            return ERRORS
    else:
        try:
            _check(draft, flow)
        except ReplayErrors as errors:
            complain(str(errors))
            return BAD_INPUT
    require_terminal()  # last: what is wrong with the draft can be told without one
    from tui.trying import TryApp

    return run_app(TryApp(draft, default_folder(), watch=args.watch))


def _check(draft: Draft, flow: Flow) -> None:
    """Raises Refusal for a step that is not there, and ReplayErrors for facts that do not fit."""
    if draft.step and draft.step not in flow.steps:
        raise Refusal(no_such_step(draft, flow))
    if draft.facts:
        read_facts(read_replay(draft.facts), flow)
