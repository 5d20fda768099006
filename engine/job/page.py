"""Pages made from templates: how every one of them is filled in."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment


def page_templates(package: str) -> Environment:
    """The templates in the `templates` folder of a package; every text put into one is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined  # 30 ms that only a page pays for

    return Environment(
        loader=PackageLoader(package, "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
