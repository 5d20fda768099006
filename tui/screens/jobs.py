"""Open and past jobs: resume one, read a finding again, write a sheet, begin a verification."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Input, Static

from engine.job.store.errors import StoreError
from engine.job.store.opening import READ_ONLY
from engine.job.store.records import FINISHED, JobSummary
from tui.actions import bindings
from tui.job_lines import matching, pick_of
from tui.plain import plain
from tui.widgets.key_bar import KeyBar
from tui.widgets.pick_list import PickList

if TYPE_CHECKING:
    from engine.job.session import Session
    from engine.job.store import Store
    from tui.app import LoadstepApp

MOST = 200
"""Jobs drawn at once; typing narrows the list to the others."""


class JobsScreen(Screen[int | None]):
    """Lists the jobs of a store. Dismisses with the number of a job to resume, or with None."""

    WHERE = "jobs"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("jobs")]
    AUTO_FOCUS = "#jobs-filter"
    DEFAULT_CSS = """
    JobsScreen #jobs-filter { border: none; height: 1; padding: 0 1; background: $panel; }
    JobsScreen #jobs-body { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    JobsScreen #jobs-told { padding: 0 1; height: auto; color: $quiet; }
    """

    def __init__(self, store: Store, language: str = "") -> None:
        """`language` is what findings and sheets are said in where there are words in it."""
        super().__init__()
        self._store, self._language = store, language
        self._jobs: list[JobSummary] = []
        self._shown: list[JobSummary] = []

    def compose(self) -> ComposeResult:
        yield Input(
            placeholder="Type to find a vehicle, a finding, a flow, a date or a number", id="jobs-filter"
        )
        with VerticalScroll(id="jobs-body", can_focus=False):
            yield PickList(numbered=0)
        yield Static(id="jobs-told", markup=False)
        yield KeyBar(self.WHERE)

    def on_screen_resume(self) -> None:
        """Read the jobs anew: one may have been written to since."""
        try:
            self._jobs = self._store.jobs()
        except StoreError as error:
            self._jobs = []
            self._show()
            self._tell(str(error))
        else:
            self._show()

    @on(Input.Changed, "#jobs-filter")
    def _narrow(self) -> None:
        self._show()

    @on(Input.Submitted, "#jobs-filter")
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_open()

    @on(PickList.Picked)
    def _picked(self, event: PickList.Picked) -> None:
        event.stop()
        self.query_one(PickList).mark(event.index)
        self.action_open()

    def action_mark_next(self) -> None:
        self._mark(+1)

    def action_mark_previous(self) -> None:
        self._mark(-1)

    def action_open(self) -> None:
        """Resume an open job; show the finding of a finished one."""
        job = self._marked
        if job is None:
            return
        if job.status == FINISHED or self._store.mode == READ_ONLY:
            self._show_finding(job)
        else:
            self.dismiss(job.id)

    def action_drawing(self) -> None:
        job = self._marked
        if job is not None:
            cast("LoadstepApp", self.app).draw_job(job.id)

    def action_back(self) -> None:
        self.dismiss(None)

    @work(exclusive=True)
    async def action_job_sheet(self) -> None:
        session = await self._load(self._marked)
        if session is not None:
            from tui.sheets import sheet_screen

            await self.app.push_screen(sheet_screen(session, cast("LoadstepApp", self.app).units))

    @work(exclusive=True)
    async def action_verify(self) -> None:
        """Begin the job after the repair, linked to the marked one."""
        session = await self._load(self._marked)
        if session is None:
            return
        if session.conclusion is None:
            self._tell("This job has no finding yet: there is no repair to verify.")
            return
        from tui.reopening import Unopened, verifying_flow

        app = cast("LoadstepApp", self.app)
        try:
            flow = verifying_flow(session, self._store.file.parent)
        except Unopened as error:
            self._tell(str(error))
        else:
            self.dismiss(None)
            app.start_job(flow, after=session.job)

    @work(exclusive=True)
    async def _show_finding(self, job: JobSummary) -> None:
        session = await self._load(job)
        if session is None:
            return
        if session.conclusion is None:
            self._tell(f"Job {job.id} has no finding. Its sheet (F5) holds what was read.")
            return
        from tui.screens.finding import FindingScreen

        await self.app.push_screen(FindingScreen(session, cast("LoadstepApp", self.app).units))

    async def _load(self, job: JobSummary | None) -> Session | None:
        """The job's session, or None after telling why there is none."""
        if job is None:
            return None
        from tui.reopening import Unopened, reopened

        try:
            return await reopened(self._store, job.id, language=self._language)
        except Unopened as error:
            self._tell(str(error))
            return None

    @property
    def _marked(self) -> JobSummary | None:
        cursor = self.query_one(PickList).cursor
        return self._shown[cursor] if cursor is not None else None

    def _mark(self, by: int) -> None:
        if self._shown:
            listed = self.query_one(PickList)
            listed.mark(((listed.cursor or 0) + by) % len(self._shown))

    def _show(self) -> None:
        marked = self._marked
        found = matching(self._jobs, self.query_one(Input).value)
        self._shown = found[:MOST]
        listed = self.query_one(PickList)
        listed.show(pick_of(job) for job in self._shown)
        if self._shown:
            ids = [job.id for job in self._shown]
            listed.mark(ids.index(marked.id) if marked is not None and marked.id in ids else 0)
        self._tell(self._count(len(found)))

    def _count(self, found: int) -> str:
        if not self._jobs:
            return "No jobs yet. Esc goes back; a new job is begun from the start screen."
        if not found:
            return "No job holds these words. Delete some of them."
        more = f", the newest {MOST} shown: type to narrow" if found > MOST else ""
        return f"{found} of {len(self._jobs)} jobs{more}"

    def _tell(self, sentence: str) -> None:
        self.query_one("#jobs-told", Static).update(plain(sentence))
