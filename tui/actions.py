"""Every action of every screen, once: bindings, key bar, help, commands and the README table come from it.

Which keys, and why. Readings and choices are typed, so on the walk screen letters and digits belong to the
entry line and actions sit on function keys. F10 (window menu) and F11 (full screen) belong to the terminal;
Ctrl+A and Ctrl+B belong to multiplexers, Ctrl+S to flow control, Ctrl+Z suspends, Ctrl+C copies or stops,
Ctrl+H, I, J and M are Backspace, Tab and Enter in disguise: none of these is used. Undo is therefore F8. Esc
always leads back, and loses nothing, since every answer is on disk already. Some terminals keep F1 or F3 to
themselves: Ctrl+P lists every action by name, and the key bar answers the mouse.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding

EVERYWHERE = "everywhere"
DIALOG = "dialog"
NOTE = "note"

_KEY_WORDS = {
    "enter": "Enter",
    "escape": "Esc",
    "tab": "Tab",
    "up": "Up",
    "down": "Down",
    "left": "Left",
    "right": "Right",
}


@dataclass(frozen=True, slots=True)
class Action:
    """One thing a person can do on the screens named in `where`.

    `name` is the Textual action (`action_<name>` of the screen, or of the app for EVERYWHERE), `key` its key
    in Textual's spelling, `label` one or two words for the key bar, `help` a sentence; `shown` puts it in the
    key bar.
    """

    name: str
    key: str
    label: str
    help: str
    shown: bool
    where: tuple[str, ...]

    @property
    def key_text(self) -> str:
        """The key as it is printed: `F8`, `Ctrl+P`, `Esc`."""
        return key_text(self.key)


ACTIONS: tuple[Action, ...] = (
    # Everywhere
    Action("help", "f1", "Help", "Explain this step and list every key.", True, (EVERYWHERE,)),
    # Start
    Action(
        "open",
        "enter",
        "Open",
        "Open the marked line; a digit opens the line with that number.",
        True,
        ("start",),
    ),
    Action("jobs", "p", "Past jobs", "Look at past jobs and their sheets.", True, ("start",)),
    Action(
        "drawing",
        "d",
        "Drawing",
        "Draw the flow of the marked line as one trunk with its branches; of an open job, its path so far.",
        False,
        ("start",),
    ),
    Action(
        "learner",
        "l",
        "Learner",
        "Turn the learner option on or off: every step is asked, loaded sets are predicted (up, down, same).",
        True,
        ("start",),
    ),
    Action(
        "mark_previous",
        "up",
        "Up",
        "Go to the choice or line above.",
        False,
        ("start", "walk", "try", "jobs", DIALOG),
    ),
    Action(
        "mark_next",
        "down",
        "Down",
        "Go to the choice or line below.",
        False,
        ("start", "walk", "try", "jobs", DIALOG),
    ),
    # Walk
    Action(
        "accept",
        "enter",
        "Accept",
        "Accept the entry, the cautions or the step that is shown, and go on.",
        False,
        ("walk", "try", DIALOG, NOTE),
    ),
    Action(
        "cannot",
        "f2",
        "Cannot",
        "Cannot measure this, cannot do this step, or cannot wait for it to settle; the job notes it.",
        True,
        ("walk", "try"),
    ),
    Action("units", "f3", "Units", "Show pressures and temperatures in the next units.", True, (EVERYWHERE,)),
    Action(
        "panes", "f4", "Board", "Show the step, the board of the sets, or the trail.", True, ("walk", "try")
    ),
    Action(
        "picture",
        "f5",
        "p-h picture",
        "Draw a set on the pressure-enthalpy diagram.",
        False,
        ("walk", "try", "finding"),
    ),
    Action("note", "f6", "Note", "Write a note for the job sheet.", False, ("walk", "try")),
    Action("finding", "f7", "Finding", "Show the finding again, once there is one.", False, ("walk", "try")),
    Action(
        "drawing",
        "ctrl+g",
        "Drawing",
        "Draw the whole flow with the path of this job and where it stands.",
        False,
        ("walk", "try"),
    ),
    Action(
        "undo",
        "f8",
        "Undo",
        "Take back the last answer; the job keeps that it was given.",
        True,
        ("walk", "try"),
    ),
    Action(
        "change",
        "ctrl+t",
        "Change",
        "Give an earlier reading anew, or one known from the flow before; the answers after it stay.",
        False,
        ("walk", "try"),
    ),
    # Trying a draft
    Action(
        "reload",
        "ctrl+r",
        "Read again",
        "Read the draft as it is saved now; answers that still fit are kept.",
        False,
        ("try",),
    ),
    Action("reload", "ctrl+r", "Read again", "Read the draft as it is saved now.", True, ("problems",)),
    # Finding, past jobs, picture
    # On the past jobs every letter belongs to the filter, so actions sit on function keys there too.
    Action("sheet", "s", "Sheet", "Write the job sheet to a file.", True, ("finding",)),
    Action(
        "open",
        "enter",
        "Open",
        "Resume the marked open job, or show the finding of a finished one; typing narrows the list.",
        True,
        ("jobs",),
    ),
    Action("job_sheet", "f5", "Sheet", "Write the marked job's sheet to a file.", True, ("jobs",)),
    Action(
        "verify", "f6", "Verify", "Begin the job after the repair, linked to the marked one.", True, ("jobs",)
    ),
    Action("drawing", "f7", "Drawing", "Draw the marked job's path through its flow.", False, ("jobs",)),
    Action("go_on", "enter", "Go on", "Close the finding and make the vehicle safe.", True, ("finding",)),
    Action("previous_set", "left", "Earlier", "Draw the set before this one.", True, ("cycle",)),
    Action("next_set", "right", "Later", "Draw the set after this one.", True, ("cycle",)),
    Action(
        "here",
        "h",
        "Here",
        "Go to the step where the job stands, else to the beginning; the digits of a number go to that step.",
        True,
        ("drawing",),
    ),
    # Everywhere, last in the key bar
    Action("leave", "escape", "Quit", "Close loadstep; open jobs wait to be resumed.", True, ("start",)),
    Action(
        "back",
        "escape",
        "Back",
        "Go back to the screen before; the job stays saved and can be resumed.",
        True,
        ("walk", "finding", "jobs", "cycle", "drawing", "help", DIALOG, NOTE),
    ),
    Action(
        "back", "escape", "Leave", "Leave the draft; nothing of the walk is kept.", True, ("try", "problems")
    ),
    Action(
        "theme", "f9", "Theme", "Change to the next theme: dark, light, 16 colours.", False, (EVERYWHERE,)
    ),
    Action("command_palette", "ctrl+p", "Commands", "Find any action by its name.", False, (EVERYWHERE,)),
    Action("quit", "ctrl+q", "Quit", "Close loadstep; the job stays saved.", False, (EVERYWHERE,)),
)


def key_text(key: str) -> str:
    """A key of Textual's spelling as people read it."""
    if key.startswith("ctrl+"):
        return f"Ctrl+{key[5:].upper()}"
    return _KEY_WORDS.get(key, key.upper())


def own_actions(where: str) -> tuple[Action, ...]:
    """The actions that the screen `where` itself carries out."""
    return tuple(action for action in ACTIONS if where in action.where)


def actions_on(where: str) -> tuple[Action, ...]:
    """All actions that work on the screen `where`, those of the app included, in the order of the key bar."""
    return tuple(action for action in ACTIONS if where in action.where or EVERYWHERE in action.where)


def bindings(where: str) -> list[Binding]:
    """Textual bindings for the class of the screen `where` (EVERYWHERE: for the app)."""
    return [
        Binding(action.key, action.name, action.label, show=action.shown) for action in own_actions(where)
    ]
