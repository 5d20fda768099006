"""The table of keys in README.md, made from the actions: `python -m tui.key_table`, in a checkout."""

from __future__ import annotations

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


def main() -> None:
    """Write the table into README.md."""
    README.write_text(with_table(README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
