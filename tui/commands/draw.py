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
from engine.flow.library import MAIN_FLOW, NoSuchFlow, find
from engine.flow.load import load_bundle, load_flow
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors
from engine.flow.suggest import shown
from tui.commands.exit_codes import GOOD
from tui.commands.folder import data_folder
from tui.commands.language import chosen_language
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.sheet_file import SheetFileError, named_path, write

FORMATS = {"text": ".txt", "mermaid": ".mmd", "svg": ".svg"}
_NARROWEST, _WIDEST = 40, 120
_LARGEST_TRIAL = 50_000_000


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
        return _job(args.flow, args.job, language)
    flow = _flow(args.flow or MAIN_FLOW, language)
    return flow, _traffic(args.trial, flow) if args.trial is not None else None


def _flow(name: str, language: str) -> Flow:
    try:
        return load_flow(find(name, data_folder(name)), language)
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None
    except FlowErrors as errors:
        first = errors.problems[0]
        raise Refusal(
            f"the flow {shown(name)} has problems, the first is {first}; `loadstep lint` lists them."
        ) from None


def _job(name: str, text: str, language: str) -> tuple[Flow, Overlay]:
    """A stored job's flow as it was begun with, and the job's path; `name` must be that flow, if given."""
    from engine.job.drawn import path_overlay
    from engine.job.fold import answers, trail
    from engine.job.store import Store, StoreError
    from engine.job.walk import WalkError
    from tui.commands.sheet import job_number

    job = job_number(text)
    with Store.open() as store:
        for notice in store.notices:
            complain(f"loadstep: {notice}")
        try:
            kept, events = store.bundle(job), store.events(job)
            flow = load_bundle(kept.files, kept.main, language)
            walk = trail(flow, answers(events))
        except (StoreError, WalkError) as error:
            raise Refusal(str(error)) from None
        except FlowErrors as errors:
            first = errors.problems[0]
            raise Refusal(f"the flow kept with job {job} cannot be read by this version: {first}") from None
    if name and _stem(name) != flow.name:
        raise Refusal(f"job {job} walks the flow {flow.name}, not {shown(name)}.")
    return flow, path_overlay(walk, f"job {job}")


def _stem(name: str) -> str:
    try:
        return find(name, data_folder(name)).path.stem
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None


def _traffic(file: str, flow: Flow) -> Overlay:
    from engine.vehicle.trial.drawn import NotATrial, read_trial, same_flow, traffic_overlay

    try:
        plain = read_trial(_read(file))
        overlay = traffic_overlay(plain, flow)
    except NotATrial as error:
        raise Refusal(f"--trial: {shown(file)} cannot be laid over the flow: {error}") from None
    if not same_flow(plain, flow):
        complain("loadstep: the flow was changed since that trial; what is new shows no traffic.")
    return overlay


def _read(file: str) -> bytes:
    try:
        with Path(file).open("rb") as opened:
            text = opened.read(_LARGEST_TRIAL + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refusal(f"--trial: {shown(file)} cannot be read ({reason}); check the path.") from None
    if len(text) > _LARGEST_TRIAL:
        raise Refusal(f"--trial: {shown(file)} is too large for a trial; check that it is the right file.")
    return text
