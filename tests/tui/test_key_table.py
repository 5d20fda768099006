"""The keys that README.md tells are the keys there are."""

import pytest

from tui.actions import ACTIONS
from tui.key_table import README, table, with_table


def test_readme_is_current() -> None:
    text = README.read_text(encoding="utf-8")
    assert text == with_table(text), "run `python -m tui.key_table`"


def test_every_action_has_its_line() -> None:
    lines = table().splitlines()
    assert len(lines) == 2 + len(ACTIONS)
    for action, line in zip(ACTIONS, lines[2:], strict=True):
        assert f"`{action.key_text}`" in line
        assert action.help in line


def test_a_readme_without_the_marks_is_refused() -> None:
    with pytest.raises(ValueError, match=r"README\.md lacks"):
        with_table("# loadstep\n")
