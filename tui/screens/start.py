"""The start screen: resume an open job, begin a new one, look at past ones.

First paint waits for everything imported here, so this imports neither a flow nor what loads one.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from engine.flow.index import FlowTitle, titles
from engine.job.store.errors import StoreError
from engine.job.store.records import FINISHED, JobSummary
from tui.actions import bindings
from tui.plain import one_line
from tui.units import Units
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView, hanging
from tui.widgets.pick_list import Pick, PickList

if TYPE_CHECKING:
    from tui.app import LoadstepApp

MOST_OPEN_JOBS = 4
"""Open jobs offered for resuming; the others are among the past jobs."""

MOTTO = "Step the load, read again, judge the movement."


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list, with what it opens: a job, a flow, or (neither) the past jobs."""

    pick: Pick
    about: str
    job: int | None = None
    flow: str | None = None


class StartScreen(Screen[None]):
    """Resume, begin, look back."""

    WHERE = "start"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(WHERE)]
    AUTO_FOCUS = None

    def __init__(self) -> None:
        super().__init__(id="start")
        self._lines: tuple[Line, ...] = ()
        self._trouble: list[str] = []

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        with VerticalScroll(id="start-body", can_focus=False):
            yield Static(MOTTO, id="motto", markup=False)
            yield LineView(id="notices")
            yield PickList(id="lines", numbered=9)  # those that a digit opens
            yield LineView(id="about")
        yield KeyBar(self.WHERE)

    def on_screen_resume(self) -> None:
        """Read jobs and flows anew: a job may have been begun or finished since."""
        self._trouble = []
        self._lines = (*self._open_jobs(), *_new_jobs(), _PAST_JOBS)
        listed = self.query_one(PickList)
        listed.show(line.pick for line in self._lines)
        listed.mark(0)
        self._tell()
        self.run_worker(self._look_elsewhere(), exclusive=True, group="elsewhere")

    async def _look_elsewhere(self) -> None:
        """Add the flows of other places, last: a digit pressed meanwhile opens the line that it showed."""
        from tui.elsewhere import flows_elsewhere

        found = await asyncio.to_thread(flows_elsewhere, self._app.folder)
        if not found:
            return
        self._lines = (*self._lines, *(Line(each.pick, each.about, flow=each.flow) for each in found))
        listed = self.query_one(PickList)
        cursor = listed.cursor
        listed.show(line.pick for line in self._lines)
        listed.mark(cursor)
        self._tell()

    def show_units(self, units: Units) -> None:
        """The person chose other units."""
        self._tell()

    def on_key(self, event: events.Key) -> None:
        if event.character is not None and event.character.isascii() and event.character.isdigit():
            index = int(event.character) - 1
            if 0 <= index < len(self._lines):
                event.stop()
                self._open(index)

    @on(PickList.Picked)
    def _picked(self, event: PickList.Picked) -> None:
        self._open(event.index)

    def action_open(self) -> None:
        cursor = self.query_one(PickList).cursor
        if cursor is not None:
            self._open(cursor)

    def action_mark_next(self) -> None:
        self._mark(+1)

    def action_mark_previous(self) -> None:
        self._mark(-1)

    def action_learner(self) -> None:
        self._app.set_learner(not self._app.settings.learner)
        self._tell()

    def action_leave(self) -> None:
        self.app.exit()

    def action_jobs(self) -> None:
        self._look_back()

    def action_drawing(self) -> None:
        cursor = self.query_one(PickList).cursor
        line = self._lines[cursor] if cursor is not None else _PAST_JOBS
        if line.job is not None:
            self._app.draw_job(line.job)
        elif line.flow is not None:
            self._app.draw_flow(line.flow)
        else:
            self._tell("Mark a flow or a job to have it drawn.")

    @property
    def _app(self) -> LoadstepApp:
        return cast("LoadstepApp", self.app)

    def _open(self, index: int) -> None:
        line = self._lines[index]
        self.query_one(PickList).mark(index)
        self._tell()
        if line.job is not None:
            self._app.resume_job(line.job)
        elif line.flow is not None:
            self._app.start_job(line.flow)
        else:
            self._look_back()

    def _look_back(self) -> None:
        from tui.screens.jobs import JobsScreen

        self.app.push_screen(JobsScreen(self._app.store, self._app.settings.language), self._back_from_jobs)

    def _back_from_jobs(self, job: int | None) -> None:
        if job is not None:
            self._app.resume_job(job)

    def _mark(self, by: int) -> None:
        listed = self.query_one(PickList)
        listed.mark(((listed.cursor or 0) + by) % len(self._lines))
        self._tell()

    def _open_jobs(self) -> Iterator[Line]:
        try:
            jobs = [job for job in self._app.store.jobs() if job.status != FINISHED][:MOST_OPEN_JOBS]
        except StoreError as error:
            self._trouble = [str(error)]
            return
        for job in jobs:
            heading = "RESUME" if job is jobs[0] else ""
            yield Line(Pick(one_line(job.title), _told(job), heading), _about_job(job), job=job.id)

    def _tell(self, *told: str) -> None:
        """The top line, and below the list what the marked line is about and what else there is to tell."""
        settings = self._app.settings
        learner = "learner on" if settings.learner else "learner off"
        top = Content.assemble(
            ("loadstep", "bold $text-accent"), (f"   {settings.units} · {learner}", "$quiet")
        )
        self.query_one("#top", Static).update(top)
        cursor = self.query_one(PickList).cursor
        about = self._lines[cursor].about if cursor is not None else ""
        self.query_one("#about", LineView).show(lambda width: hanging(Content.styled(about, "$quiet"), width))
        notices = [f"! {one_line(each)}" for each in (*self._app.store.notices, *self._trouble, *told)]
        self.query_one("#notices", LineView).show(
            lambda width: [
                line
                for each in notices
                for line in hanging(Content.styled(each, "bold $text-warning"), width)
            ]
        )


_PAST_JOBS = Line(Pick("Past jobs", "findings and sheets", "LOOK BACK"), "Every job kept on this computer.")


def _new_jobs() -> Iterator[Line]:
    heading = "NEW JOB"
    for title in titles():
        yield Line(Pick(one_line(title.title), "", heading), _about_flow(title), flow=title.name)
        heading = ""


def _about_flow(title: FlowTitle) -> str:
    flow = f"Flow {one_line(title.name)}, revision {title.revision}, shipped with loadstep; D draws it."
    return f"{one_line(title.about)} {flow}"


def _about_job(job: JobSummary) -> str:
    vehicle = f"{one_line(job.vehicle)}. " if job.vehicle else ""
    begun = f"{vehicle}Begun {_when(job.created)}, {job.steps} steps taken."
    return f"{begun} Enter goes on where it was left, D draws its path."


def _told(job: JobSummary) -> str:
    return f"job {job.id}, last {_when(job.last)}"


def _when(at: datetime) -> str:
    return at.astimezone().strftime("%Y-%m-%d %H:%M")
