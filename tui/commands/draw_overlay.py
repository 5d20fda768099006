"""What `loadstep draw` lays over a flow: the path of a stored job, the traffic of a trial."""

from __future__ import annotations

from pathlib import Path

from engine.flow.draw.overlay import Overlay
from engine.flow.library import NoSuchFlow, find
from engine.flow.load import load_bundle
from engine.flow.model import Flow
from engine.flow.suggest import reason, shown
from engine.job.begun_with import as_walked
from engine.job.drawn import path_overlay
from engine.job.fold import answers, trail
from engine.vehicle.trial.drawn import NotATrial, read_trial, same_flow, traffic_overlay
from tui.commands.folder import data_folder
from tui.commands.output import complain
from tui.commands.refusal import Refusal
from tui.commands.stored_job import job_number, store_to_read

_LARGEST_TRIAL = 50_000_000


def job_drawing(name: str, text: str, language: str) -> tuple[Flow, Overlay]:
    """A stored job's flow as it was begun with, and the job's path; `name` must be that flow, if given.

    Raises Refusal.
    """
    job = job_number(text)
    with store_to_read(job) as store:
        kept, events = store.bundle(job), store.events(job)
        flow = load_bundle(kept.files, kept.main, language)
        walk = trail(as_walked(flow, events), answers(events))
    if name and _stem(name) != flow.name:
        raise Refusal(f"job {job} walks the flow {flow.name}, not {shown(name)}.")
    return flow, path_overlay(walk, f"job {job}")


def _stem(name: str) -> str:
    try:
        return find(name, data_folder(name)).path.stem
    except NoSuchFlow as missing:
        raise Refusal(str(missing)) from None


def trial_traffic(file: str, flow: Flow) -> Overlay:
    """The traffic of the trial in `file`, which must be one of `flow`. Raises Refusal."""
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
        raise Refusal(f"--trial: {shown(file)} cannot be read ({reason(error)}); check the path.") from None
    if len(text) > _LARGEST_TRIAL:
        raise Refusal(f"--trial: {shown(file)} is too large for a trial; check that it is the right file.")
    return text
