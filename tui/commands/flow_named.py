"""The flow that a command names, or the sentence that says why it cannot be had."""

from __future__ import annotations

from engine.flow.library import NoSuchFlow, find
from engine.flow.load import load_flow
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors
from engine.flow.suggest import shown
from tui.commands.folder import data_folder
from tui.commands.refusal import Refusal


def flow_named(name: str, language: str = "") -> Flow:
    """The flow of that name or in that file, said in `language` where it has words in it. Raises Refusal."""
    try:
        return load_flow(find(name, data_folder(name)), language)
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None
    except FlowErrors as errors:
        first = errors.problems[0]
        raise Refusal(
            f"the flow {shown(name)} has problems, the first is {first}; `loadstep lint` lists them."
        ) from None
