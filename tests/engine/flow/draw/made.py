"""Flows made by hand or by the thousand, checked or not: a drawing has to stand whatever is in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from engine.flow.draw.layout import laid_out
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.text import as_text, text_lines
from engine.flow.library import MAIN_FLOW, find
from engine.flow.load import load_path
from engine.flow.model import (
    Caution,
    Facts,
    Finding,
    Flow,
    Limits,
    Next,
    Reading,
    Rule,
    SetState,
    Step,
    Watch,
)
from engine.physics.quantity import Kind


class Said:
    """A condition of which only the text matters."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.names: tuple[str, ...] = ()
        self.guarded: frozenset[str] = frozenset()

    def evaluate(self, facts: Facts, current_set: str | None = None) -> bool | None:
        return None


READINGS = {
    "low_side": Reading("low_side", "Low side", kind=Kind.PRESSURE, unit="psi"),
    "high_side": Reading("high_side", "High side", kind=Kind.PRESSURE, unit="psi"),
}
SETS = {"loaded": SetState("loaded", "Load raised", "raised")}
CAUTIONS = {
    "burst": Caution("burst", "WARNING", "It can burst.", "made up", "pressurised"),
    "shock": Caution("shock", "DANGER", "It can kill.", "made up"),
    "note": Caution("note", "NOTICE", "Write it down.", "made up"),
}


def step(id: str, to: str | Sequence[tuple[str, str]] = (), **more: Any) -> Step:
    """A step that leads to `to`: always, or by rules (condition, target), the last of them `otherwise`."""
    more.setdefault("title", id.replace("-", " ").capitalize())
    if isinstance(to, str):
        return Step(id, next=Next((), None, to), do="Do it.", **more)
    if not to:
        return Step(id, do="Do it.", **more)
    rules = tuple(Rule(Said(when), target) for when, target in to[:-1])
    return Step(id, next=Next(rules, to[-1][1], to[-1][1]), do="Do it.", **more)


def flow(*steps: Step, watch: Sequence[tuple[str, str]] = (), **more: Any) -> Flow:
    """A flow of these steps that starts with the first; `watch` holds (condition, target)."""
    made = Flow(
        name="made",
        revision=1,
        title="A made-up flow",
        about="",
        start=steps[0].id if steps else "nothing",
        readings=READINGS,
        sets=SETS,
        cautions=CAUTIONS,
        watch=tuple(Watch(f"w{n}", Said(when), go, "") for n, (when, go) in enumerate(watch)),
        steps={one.id: one for one in steps},
        signs={},
        findings={"weak": Finding("weak", "Weak compressor", "")},
        limits=Limits(),
        hash="",
    )
    return replace(made, **more)


def drawn(flow: Flow, width: int = 80, overlay: Overlay | None = None) -> str:
    """The drawing as text, without its heading."""
    lines = text_lines(laid_out(flow), width, overlay)
    return as_text(lines).partition("\n\n")[2]


def trunk_and_branches(steps: int) -> Flow:
    """A trunk with a branch of two steps every tenth step, a loop every fiftieth, usual conditions."""
    made: dict[str, Step] = {}
    trunk = [f"t{n}" for n in range(steps * 5 // 6)]
    for n, id in enumerate(trunk):
        on = trunk[n + 1] if n + 1 < len(trunk) else ""
        if not on:
            made[id] = step(id, conclude=("weak",))
        elif n % 10 == 0:
            when = "loaded.high_side - loaded.low_side >= 15 psi and loaded.low_side < 30 psi"
            made[id] = step(
                id, [(when, f"a{n}"), ("", on)], cautions=("burst", "note"), exposure=("pressurised",)
            )
            made[f"a{n}"] = step(f"a{n}", f"b{n}", ask=("low_side",))
            made[f"b{n}"] = step(f"b{n}", trunk[max(n - 5, 0)] if n % 50 == 0 else on)
        else:
            made[id] = step(id, on, set="loaded", settle=120.0, record=("low_side", "high_side"))
    return flow(*made.values())


@cache
def main_flow() -> Flow:
    return load_path(find(MAIN_FLOW).path)
