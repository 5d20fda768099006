"""`loadstep sheet`: a stored job's sheet, as Markdown on standard output or as a file."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from engine.flow.load import load_bundle
from engine.job.begun_with import as_walked
from engine.job.sheet import Sheet, build_sheet, to_html, to_markdown
from tui.commands.exit_codes import GOOD
from tui.commands.language import chosen_language
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.commands.stored_job import job_number, store_to_read
from tui.sheet_file import SheetFileError, chosen_path, write
from tui.units import Units

if TYPE_CHECKING:
    from tui.settings import Settings


def run(args: Namespace) -> int:
    job = job_number(args.job)
    path = _path(args.out)  # before any work: a bad name should cost nothing
    sheet = _sheet(job, chosen_language(args.language))
    if path is None:
        for line in to_markdown(sheet).splitlines():
            say(line)
        return GOOD
    text = to_markdown(sheet) if path.suffix.lower() == ".md" else to_html(sheet)
    try:
        write(path, text, replace=True)
    except SheetFileError as error:
        raise Refusal(str(error)) from None
    complain(f"The sheet of job {job} is in {path}")
    return GOOD


def _path(out: str | None) -> Path | None:
    try:
        return None if out is None else chosen_path(out)
    except SheetFileError as error:
        raise Refusal(f"--out: {error}") from None


def _sheet(job: int, language: str | None) -> Sheet:
    """The sheet, by the flow files the job was begun with, in the units and the language chosen."""
    with store_to_read(job) as store:
        kept, events = store.bundle(job), store.events(job)
        settings = _settings(store.file.parent)
        spoken = settings.language if language is None else language
        flow = as_walked(load_bundle(kept.files, kept.main, spoken), events)
        return build_sheet(flow, events, job, Units(settings.units))


def _settings(folder: Path) -> Settings:
    from tui.settings import load  # brings Textual along, so only once there is a sheet to make

    return load(folder)
