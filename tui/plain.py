"""Text from flows, files and people on the screen; what makes it safe is in `engine.flow.plain`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.flow.plain import one_line, plain

if TYPE_CHECKING:
    from textual.content import Content

__all__ = ["literal", "one_line", "plain"]


def literal(text: str, style: str = "") -> Content:
    """`plain` text as content that is never read as markup; `style` may name theme colours."""
    # Imported here, because commands that draw nothing use this module too and must not wait for Textual.
    from textual.content import Content

    return Content.styled(plain(text), style) if style else Content(plain(text))
