"""What comes between two prompts: STOP, finding, prediction, whether a set still holds, a note, the end.

Each takes the walk screen, shows one dialog, and has the session record the answer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_SETTLE, Step
from engine.job.events import ANSWERED, PREDICTED
from engine.job.session import Session
from engine.job.state import INTERRUPT
from engine.job.walk import Walk
from tui.plain import one_line, plain
from tui.screens.question import Question
from tui.widgets.step_card import stop_reason

if TYPE_CHECKING:
    from tui.screens.walk import WalkScreen

DIRECTIONS = ("up", "down", "same")


async def follow(screen: WalkScreen, before: Walk | None) -> None:
    """All that has to be shown after the walk moved from `before` (None: it was just opened)."""
    walk = screen.session.walk
    if before is not None and _interrupts(walk) > _interrupts(before):
        await screen.app.push_screen_wait(stop_question(walk))
    if before is not None and before.conclusion is None and walk.conclusion is not None:
        await show_finding(screen)
    if walk.prompt is None and before is not None:
        await screen.finish()
    if due_prediction(screen.session):
        await predict(screen)


def stop_question(walk: Walk) -> Question:
    """The STOP: why, and what to do at once."""
    step = walk.step
    at_once = [one_line(step.title), plain(step.do)] if step is not None else []
    return Question("■ STOP", [stop_reason(walk), *at_once], ["I am doing this now"], grave=True)


async def show_finding(screen: WalkScreen) -> None:
    """The finding with its evidence."""
    from tui.screens.finding import FindingScreen

    await screen.app.push_screen_wait(FindingScreen(screen.session, screen.loadstep.units))


def due_prediction(session: Session) -> tuple[str, ...]:
    """The readings a learner has to predict now: before the load is set, or before the first reading."""
    walk = session.walk
    step, prompt = walk.step, walk.prompt
    if not session.learner or step is None or prompt is None or step.set is None:
        return ()
    first = ITEM_BEGIN if step.settle is not None else (*step.record, "")[0]
    made = any(e.kind == PREDICTED and (e.step, e.visit) == (step.id, prompt.visit) for e in session.events)
    if prompt.item != first or made:
        return ()
    return tuple(name for name in walk.flow.sets[step.set].predict if name in step.record)


async def predict(screen: WalkScreen) -> None:
    """Ask a learner, reading by reading, which way each will go; Esc leaves the rest open."""
    walk = screen.session.walk
    step, predicted = walk.step, dict[str, str]()
    state = walk.flow.sets[step.set] if step is not None and step.set is not None else None
    if state is None:
        return
    compared = walk.flow.sets.get(state.compare_with or "")
    against = f"against {one_line(compared.label)}" if compared is not None else "against the set before"
    names = due_prediction(screen.session)
    for number, name in enumerate(names, 1):
        label = one_line(walk.flow.readings[name].label)
        asked = f"{number} of {len(names)}. {one_line(state.label)}: which way will {label} go, {against}?"
        answers = ["↑ up", "↓ down", "= same"]
        picked = await screen.app.push_screen_wait(Question("Predict first", [asked], answers))
        if picked is None:
            break
        predicted[name] = DIRECTIONS[picked]
    await screen.record(screen.session.predict(predicted))


async def hold(screen: WalkScreen) -> None:
    """Ask whether the state of the open set still holds; if not, take the set again from its beginning."""
    step = screen.session.walk.step
    if step is None or step.set is None:
        return
    age = screen.session.set_age(screen.loadstep.clock()) or 0.0
    label = one_line(screen.session.walk.flow.sets[step.set].label)
    asked = f"{label} has been open for {round(age / 60)} minutes. Is the load still as it was set?"
    answers = ["It still holds", "It changed: take this set again"]
    picked = await screen.app.push_screen_wait(Question("Does it still hold?", [asked], answers))
    if picked == 1:
        await screen.record(take_again(screen.session, step))
    else:
        await screen.record(screen.session.hold())


async def take_again(session: Session, step: Step) -> None:
    """Undo back to where the set of `step` was begun (or, without a settle time, first read)."""
    first = ITEM_BEGIN if step.settle is not None else step.record[0]
    while session.walk.step is step and session.walk.prompt is not None:
        if session.walk.prompt.item in (first, ITEM_CAUTIONS) or not await session.undo():
            return


async def write_note(screen: WalkScreen) -> None:
    """Take a note for the sheet."""
    from tui.screens.note import NoteDialog

    text = await screen.app.push_screen_wait(NoteDialog())
    if text:
        await screen.record(screen.session.note(text))
        screen.tell("The note is kept with the job.")


async def finish(screen: WalkScreen) -> None:
    """The job is done: its sheet, its finding, a job to verify the repair, or back to the start screen."""
    session = screen.session
    answers = [
        "Write the sheet",
        "See the finding",
        "Begin the job that verifies the repair",
        "To the start screen",
    ]
    told = [_told(session.walk), "Everything is kept; the sheet can be written at any time."]
    while True:
        picked = await screen.app.push_screen_wait(Question("The job is finished", told, answers))
        if picked == 0:
            from tui.sheets import sheet_screen

            await screen.app.push_screen_wait(sheet_screen(session, screen.loadstep.units))
        elif picked == 1:
            await show_finding(screen)
        elif picked is None:
            return
        else:
            screen.dismiss()
            screen.loadstep.session = None
            if picked == 2:
                screen.loadstep.start_job(_verifying(session), after=session.job)
            return


def _verifying(session: Session) -> str:
    """The flow that verifies the repair; where none is found, the name of the one kept with the job."""
    from tui.reopening import Unopened, verifying_flow

    try:
        return verifying_flow(session, session.store.file.parent)
    except Unopened:
        return session.flow.verification or session.flow.name


def text_to_show(session: Session, before: Walk, typed_again: bool) -> str | None:
    """What the entry holds after a move from `before`: None leaves what is typed there.

    Another window may have gone on with the job and left the prompt as it was; an undo (`typed_again`) brings
    back what was typed.
    """
    if session.walk.prompt == before.prompt:
        return None
    return typed_before(session) if typed_again else session.draft_text()


def typed_before(session: Session) -> str:
    """What was last typed at the present prompt, for correcting it after an undo."""
    prompt = session.walk.prompt
    if prompt is None or prompt.item in (ITEM_CAUTIONS, ITEM_BEGIN, ITEM_SETTLE):
        return ""
    texts = (e.text for e in reversed(session.events) if e.kind == ANSWERED and e.key == prompt.key)
    return next(texts, "")


def _told(walk: Walk) -> str:
    if walk.conclusion is None:
        return "It ended without a finding."
    found = walk.flow.findings.get(walk.conclusion.finding)
    return f"Finding: {one_line(found.title) if found is not None else walk.conclusion.finding}."


def _interrupts(walk: Walk) -> int:
    return sum(entry.how == INTERRUPT for entry in walk.trail)
