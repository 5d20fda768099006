"""A sheet as one HTML file that holds everything it needs, to look at and to print."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from engine.job.page import page_templates
from engine.job.sheet.blocks import Sheet

if TYPE_CHECKING:
    from jinja2 import Template


def to_html(sheet: Sheet) -> str:
    """The sheet as a page without scripts or anything fetched; every text in it is escaped."""
    return _template().render(sheet=sheet)


@cache
def _template() -> Template:
    return page_templates("engine.job.sheet").get_template("sheet.html.j2")
