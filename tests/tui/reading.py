"""What a person would read off the terminal."""

from __future__ import annotations

from textual.app import App


def lines(app: App[None]) -> list[str]:
    """The lines on the screen now, as plain text."""
    screen = app.screen
    return [
        "".join(segment.text for segment in strip) for strip in screen._compositor.render_strips(screen.size)
    ]


def sentences(app: App[None]) -> str:
    """The screen as running text, frames left out: for what may be wrapped anywhere."""
    return " ".join("".join(letter for letter in shown(app) if letter not in "│╭╮╰╯─┃┏┓┗┛━").split())


def shown(app: App[None]) -> str:
    """All of the screen as one text; words wrapped over two lines are parted by the break."""
    return "\n".join(line.rstrip() for line in lines(app))
