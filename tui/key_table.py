"""The table of keys in README.md, made from the actions: `python -m tui.key_table [--check]`, in a checkout."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from tui.actions import ACTIONS, DIALOG, EVERYWHERE, Action

README = Path(__file__).parent.parent / "README.md"
BEGIN = "<!-- keys: made by `python -m tui.key_table`, tested to be current -->\n"
END = "<!-- end of keys -->\n"

_SCREENS = {EVERYWHERE: "everywhere", DIALOG: "questions", "cycle": "picture", "jobs": "past jobs"}


def table() -> str:
    """The table as Markdown, one line an action, in the order of the registry."""
    return "\n".join(_lines()) + "\n"


def with_table(readme: str) -> str:
    """The README's text with the present table. Raises ValueError if its two marks are not there."""
    head, begin, rest = readme.partition(BEGIN)
    _, end, tail = rest.partition(END)
    if not (begin and end):
        raise ValueError(f"README.md lacks {BEGIN.strip()!r} or, after it, {END.strip()!r}")
    return f"{head}{BEGIN}\n{table()}\n{END}{tail}"


def _lines() -> Iterator[str]:
    yield "| key | where | what it does |"
    yield "| --- | --- | --- |"
    for action in ACTIONS:
        yield f"| `{action.key_text}` | {_where(action)} | {action.help} |"


def _where(action: Action) -> str:
    return ", ".join(_SCREENS.get(screen, screen) for screen in action.where)


def main() -> int:
    """Write the table; with `--check` only say, by exit code 1, that it is not current."""
    present = README.read_text(encoding="utf-8")
    wanted = with_table(present)
    if "--check" in sys.argv[1:]:
        return int(present != wanted)
    README.write_text(wanted, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
