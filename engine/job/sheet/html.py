"""A sheet as one HTML file that holds everything it needs, to look at and to print."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from engine.job.sheet.blocks import Sheet

if TYPE_CHECKING:
    from jinja2 import Template


def to_html(sheet: Sheet) -> str:
    """The sheet as a page without scripts or anything fetched; every text in it is escaped."""
    return _template().render(sheet=sheet)


@cache
def _template() -> Template:
    from jinja2 import Environment, PackageLoader, StrictUndefined  # 30 ms that only a sheet pays for

    environment = Environment(
        loader=PackageLoader("engine.job.sheet", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("sheet.html.j2")
