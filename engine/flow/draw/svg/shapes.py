"""SVG elements as text, and how wide text is in them.

Whoever opens the file has other fonts than we know of, so widths are those of a wide sans-serif face: text
may end early, but does not run out of its box.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial
from xml.sax.saxutils import escape, quoteattr

from engine.flow.draw.cells import Measure, Piece, cells, wrapped_by

_EMS = {
    0.35: "iIjJl.,:;'|! ",
    0.42: 'frt()[]-/\\"',
    0.85: "wM%",
    1.0: "mW@—",
    0.78: "ABCDEFGHKLNOPQRSTUVXYZ&+<=>~",
}
_EM = {letter: em for em, letters in _EMS.items() for letter in letters}
_OTHER = 0.64
"""Small letters and digits, in ems; rounded up, as all of them are."""

_BOLD = 1.12

# Characters that XML 1.0 has no way to write.
_NOT_XML = re.compile("[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def measure(size: float, bold: bool = False) -> Measure:
    """How wide text of that size is, in the drawing's units."""
    return partial(_width, size * (_BOLD if bold else 1.0))


def _width(em: float, text: str) -> float:
    return em * sum(_EM.get(letter) or (_OTHER if letter.isascii() else cells(letter)) for letter in text)


def wrapped(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """`text` in lines that fit into `width` at that size."""
    return wrapped_by(measure(size, bold), text, width)


def written(text: str) -> str:
    """`text` as the content of an element."""
    return escape(_NOT_XML.sub("", text))


def text_at(x: float, y: float, lines: Sequence[str], leading: float, kind: str) -> list[str]:
    """Lines of text below one another, the base line of the first at `y`; `kind` is a class of the styles."""
    return [
        f'<text x="{x:g}" y="{y + place * leading:g}" class="{kind}">{written(line)}</text>'
        for place, line in enumerate(lines)
    ]


def tagged_at(x: float, y: float, pieces: Sequence[Piece]) -> str:
    """One line of text whose pieces are of the classes that their tags name."""
    spans = (f'<tspan class="{tag or "way"}">{written(text)}</tspan>' for text, tag in pieces)
    return f'<text x="{x:g}" y="{y:g}" xml:space="preserve">{"".join(spans)}</text>'


def line(x1: float, y1: float, x2: float, y2: float, width: float = 1.5) -> str:
    return f'<path d="M{x1:g} {y1:g}L{x2:g} {y2:g}" class="line" stroke-width="{width:g}"/>'


def box(x: float, y: float, width: float, height: float, kind: str, rounding: float = 4) -> str:
    return (
        f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="{rounding:g}" class="{kind}"/>'
    )


def badge(x: float, y: float, text: str, kind: str) -> list[str]:
    """A short word on a filled ground, its middle at (x, y)."""
    width = max(measure(11, bold=True)(text) + 8, 20)
    return [
        box(x - width / 2, y - 9, width, 18, kind, 9),
        f'<text x="{x:g}" y="{y + 4:g}" class="{kind}-text">{written(text)}</text>',
    ]


def linked(target: str, parts: Sequence[str]) -> list[str]:
    """`parts` as a link to another place of the same drawing."""
    return [f"<a href={quoteattr('#' + target)}>", *parts, "</a>"]
