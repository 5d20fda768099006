"""The traffic of a trial, read back from what `loadstep trial --json` printed, to be laid over a drawing."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from typing import Any

from engine.flow.draw.overlay import Overlay
from engine.flow.model import Flow
from engine.flow.plain import one_line
from engine.flow.suggest import counted, listed, shown
from engine.vehicle.trial.plain import FORMAT


class NotATrial(Exception):
    """The text is no trial of this flow; the message is a sentence with what to do."""


def read_trial(text: bytes) -> dict[str, Any]:
    """The object that a trial printed. Raises NotATrial."""
    try:
        plain = json.loads(text)
    except (ValueError, RecursionError):  # UnicodeDecodeError is a ValueError
        raise NotATrial(
            "it is not JSON; write it by `loadstep trial FLOW --json > FILE`, with nothing else in it."
        ) from None
    if (
        not isinstance(plain, dict)
        or plain.get("format") != FORMAT
        or not isinstance(plain.get("fleets"), list)
    ):
        raise NotATrial("it is not what `loadstep trial --json` prints; make it anew with this version.")
    return plain


def traffic_overlay(plain: Mapping[str, Any], flow: Flow) -> Overlay:
    """The traffic of all its fleets together. Raises NotATrial, also for a trial of another flow."""
    if plain.get("flow") != flow.name:
        raise NotATrial(f"it is a trial of {shown(str(plain.get('flow')))}, not of '{flow.name}'.")
    visits, moves, vehicles = Counter[str](), Counter[tuple[str, str]](), 0
    try:
        for fleet in plain["fleets"]:
            vehicles += _count(fleet["overall"]["vehicles"])
            for one in fleet["traffic"]["steps"]:
                visits[_word(one["step"])] += _count(one["visits"])
            for one in fleet["traffic"]["moves"]:
                moves[_word(one["from"]), _word(one["to"])] += _count(one["times"])
        names = [_word(fleet["fleet"]) for fleet in plain["fleets"]]
    except (KeyError, TypeError, ValueError):
        raise NotATrial(
            "it says nothing about traffic, as older versions do; run `loadstep trial --json` again."
        ) from None
    return Overlay(_caption(vehicles, names), visits, moves, vehicles)


def same_flow(plain: Mapping[str, Any], flow: Flow) -> bool:
    """Whether the flow is just as it was tried."""
    return bool(plain.get("flow_hash") == flow.hash)


def _caption(vehicles: int, names: list[str]) -> str:
    fleets = f" ({listed([one_line(name) for name in names], 'and')})" if names else ""
    return (
        f"Traffic of {counted(vehicles, 'simulated vehicle')}{fleets}: in front of each step how often it "
        "was visited, of each way how often it was taken."
    )


def _count(value: Any) -> int:
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 10**12:
        return value
    raise ValueError("no count")


def _word(value: Any) -> str:
    if isinstance(value, str):
        return value
    raise ValueError("no word")
