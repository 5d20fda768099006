"""The registry: every action has help and a key that terminals let through, one meaning a key and screen."""

import re
from typing import Any

import pytest
from textual.binding import Binding
from textual.screen import Screen

from tui.actions import ACTIONS, DIALOG, EVERYWHERE, NOTE, actions_on, bindings, key_text
from tui.app import LoadstepApp
from tui.screens.cycle import CycleScreen
from tui.screens.drawing import DrawingScreen
from tui.screens.finding import FindingScreen
from tui.screens.help import HelpScreen
from tui.screens.jobs import JobsScreen
from tui.screens.note import NoteDialog
from tui.screens.problems import ProblemsScreen
from tui.screens.question import Question
from tui.screens.sheet import SheetScreen
from tui.screens.start import StartScreen
from tui.screens.trying import TryScreen
from tui.screens.walk import WalkScreen
from tui.widgets.key_bar import GIVES_WAY

SCREENS: dict[str, tuple[type[Screen[Any]], ...]] = {
    "start": (StartScreen,),
    "walk": (WalkScreen,),
    "finding": (FindingScreen,),
    "cycle": (CycleScreen,),
    "jobs": (JobsScreen,),
    "drawing": (DrawingScreen,),
    "try": (TryScreen,),
    "problems": (ProblemsScreen,),
    "help": (HelpScreen,),
    DIALOG: (Question,),
    NOTE: (NoteDialog, SheetScreen),
}
NAMES = [*SCREENS]

ALLOWED = re.compile(r"[a-z0-9]|f([1-9]|10)|ctrl\+[a-z]|enter|escape|up|down|left|right|tab")
# Multiplexers (a, b), flow control (s), suspend (z), interrupt and copy (c), and keys that are other keys in
# disguise (h Backspace, i Tab, j and m Enter).
EATEN = {f"ctrl+{letter}" for letter in "abszchijm"}


def test_every_screen_of_the_registry_is_known_here() -> None:
    assert {screen for action in ACTIONS for screen in action.where} == {*SCREENS, EVERYWHERE}


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: f"{action.name}-{action.key}")
def test_an_action_has_help_a_label_and_a_key_that_arrives(action) -> None:  # type: ignore[no-untyped-def]
    assert ALLOWED.fullmatch(action.key)
    assert action.key not in EATEN
    assert action.help.endswith(".")
    assert len(action.help.split()) >= 3
    assert 0 < len(action.label) <= 12


@pytest.mark.parametrize("where", NAMES)
def test_no_key_is_doubled_on_one_screen(where: str) -> None:
    keys = [action.key for action in actions_on(where)]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("where", NAMES)
def test_the_key_bar_has_at_most_six_entries(where: str) -> None:
    assert 1 <= sum(action.shown for action in actions_on(where)) <= 6


@pytest.mark.parametrize("where", NAMES)
def test_every_action_is_carried_out_by_its_screen_or_by_the_app(where: str) -> None:
    for screen in SCREENS[where]:
        for action in actions_on(where):
            owner = LoadstepApp if EVERYWHERE in action.where else screen
            assert callable(getattr(owner, f"action_{action.name}", None)), (
                f"{screen.__name__}: {action.name}"
            )


@pytest.mark.parametrize("where", NAMES)
def test_a_screen_binds_the_keys_of_the_registry_and_no_other_of_ours(where: str) -> None:
    for screen in SCREENS[where]:
        own = {(b.key, b.action) for b in screen.BINDINGS if isinstance(b, Binding)}
        assert own == {(b.key, b.action) for b in bindings(where)}


def test_letters_are_left_to_the_entry_where_text_is_typed() -> None:
    for where in ("walk", "try", "jobs"):
        assert not [action.key for action in actions_on(where) if len(action.key) == 1]


def test_keys_are_printed_as_people_read_them() -> None:
    assert [key_text(key) for key in ("f8", "ctrl+p", "escape", "enter", "up", "s")] == [
        "F8",
        "Ctrl+P",
        "Esc",
        "Enter",
        "Up",
        "S",
    ]


def test_what_gives_way_in_the_key_bar_is_an_action() -> None:
    assert set(GIVES_WAY) <= {action.name for action in ACTIONS}
