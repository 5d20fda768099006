"""`loadstep draw`: a flow as text, Mermaid or SVG, with a job's path or a trial's traffic laid over it."""

from __future__ import annotations

import gc
from argparse import Namespace
from collections.abc import Iterable
from pathlib import Path
from shutil import get_terminal_size

from engine.flow.draw.layout import laid_out
from engine.flow.draw.mermaid import mermaid_lines
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.svg.sheets import svg
from engine.flow.draw.text import WIDTH, text_lines
from engine.flow.library import MAIN_FLOW
from engine.flow.model import Flow
from engine.flow.suggest import shown
from tui.commands.exit_codes import GOOD
from tui.commands.flow_named import flow_named
from tui.commands.language import chosen_language
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.sheet_file import SheetFileError, named_path, write

FORMATS = {"text": ".txt", "mermaid": ".mmd", "svg": ".svg"}
_NARROWEST, _WIDEST = 40, 120


def run(args: Namespace) -> int:
    gc.disable()  # what a drawing is made of lives until the end
    path = _path(args.out)  # before any work: a bad name should cost nothing
    chosen = _format(args.format, path)
    flow, overlay = _drawn(args)
    if path is None:
        for line in _lines(chosen, flow, overlay, max(_NARROWEST, min(get_terminal_size().columns, _WIDEST))):
            say(line)
        return GOOD
    try:
        write(path, "".join(f"{line}\n" for line in _lines(chosen, flow, overlay, WIDTH)), replace=True)
    except SheetFileError as error:
        raise Refusal(str(error)) from None
    complain(f"The drawing of {flow.name} is in {path}")
    return GOOD


def _lines(chosen: str, flow: Flow, overlay: Overlay | None, width: int) -> Iterable[str]:
    plan = laid_out(flow)
    if chosen == "svg":
        return svg(plan, overlay).splitlines()
    if chosen == "mermaid":
        return mermaid_lines(plan, overlay)
    return map(str, text_lines(plan, width, overlay))


def _path(out: str | None) -> Path | None:
    try:
        return None if out is None else named_path(out, "flow.svg")
    except SheetFileError as error:
        raise Refusal(f"--out: {error}") from None


def _format(given: str | None, path: Path | None) -> str:
    """The format asked for, else the one that the file's name ends in, else text."""
    if given is not None:
        if given not in FORMATS:
            raise Refusal(f"--format: there is no {shown(given)}; use {', '.join(FORMATS)}.")
        return given
    if path is None:
        return "text"
    for name, suffix in FORMATS.items():
        if path.suffix.lower() == suffix:
            return name
    raise Refusal("--out: let the name end in .txt, .mmd or .svg, or say which --format it is to be.")


def _drawn(args: Namespace) -> tuple[Flow, Overlay | None]:
    """The flow, and what is laid over it."""
    if args.job is not None and args.trial is not None:
        raise Refusal(
            "a drawing shows the path of a job or the traffic of a trial: leave out --job or --trial."
        )
    language = chosen_language(args.language) or ""
    if args.job is not None:
        from tui.commands.draw_overlay import job_drawing

        return job_drawing(args.flow, args.job, language)
    flow = flow_named(args.flow or MAIN_FLOW, language)
    if args.trial is None:
        return flow, None
    from tui.commands.draw_overlay import trial_traffic

    return flow, trial_traffic(args.trial, flow)
