"""A small drawing surface made of braille dots: two dots across and four down in each character cell."""

from __future__ import annotations

from dataclasses import dataclass, field

from textual.content import Content

DOTS_ACROSS, DOTS_DOWN = 2, 4
_BRAILLE = 0x2800
_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bit of each dot by row and column (Unicode Standard, Braille Patterns, U+2800 block: dots 1-8)."""


@dataclass(slots=True)
class Canvas:
    """`columns` x `rows` cells. Dot coordinates start at the top left; what falls outside is dropped."""

    columns: int
    rows: int
    _bits: dict[tuple[int, int], int] = field(default_factory=dict)
    _styles: dict[tuple[int, int], str] = field(default_factory=dict)
    _letters: dict[tuple[int, int], str] = field(default_factory=dict)

    @property
    def width(self) -> int:
        """Dots across."""
        return self.columns * DOTS_ACROSS

    @property
    def height(self) -> int:
        """Dots down."""
        return self.rows * DOTS_DOWN

    def dot(self, x: int, y: int, style: str = "") -> None:
        """Set one dot. The cell takes the style of the last dot set in it."""
        if not (0 <= x < self.width and 0 <= y < self.height):
            return
        cell = (x // DOTS_ACROSS, y // DOTS_DOWN)
        self._bits[cell] = self._bits.get(cell, 0) | _BITS[y % DOTS_DOWN][x % DOTS_ACROSS]
        self._styles[cell] = style

    def line(
        self, start: tuple[float, float], end: tuple[float, float], style: str = "", gap: int = 1
    ) -> None:
        """A straight line between two dots; with `gap` 3 only every third dot is set."""
        (x0, y0), (x1, y1) = start, end
        steps = max(abs(x1 - x0), abs(y1 - y0), 1.0)
        for step in range(0, round(steps) + 1, gap):
            part = min(step / steps, 1.0)
            self.dot(round(x0 + (x1 - x0) * part), round(y0 + (y1 - y0) * part), style)

    def text(self, column: int, row: int, text: str, style: str = "") -> None:
        """Write narrow characters over the dots, cut at the edges."""
        if not 0 <= row < self.rows:
            return
        for place, letter in enumerate(text, column):
            if 0 <= place < self.columns:
                self._letters[(place, row)] = letter
                self._styles[(place, row)] = style

    def free(self, column: int, row: int, length: int) -> bool:
        """Whether `length` cells from here on are inside and hold no letter."""
        inside = 0 <= row < self.rows and column >= 0 and column + length <= self.columns
        return inside and not any((place, row) in self._letters for place in range(column, column + length))

    def ink(self, column: int, row: int, length: int) -> int:
        """How many of these cells hold dots already."""
        return sum((place, row) in self._bits for place in range(column, column + length))

    def lines(self) -> list[Content]:
        """The picture, one Content a row."""
        return [
            Content.assemble(*(self._cell(column, row) for column in range(self.columns)))
            for row in range(self.rows)
        ]

    def _cell(self, column: int, row: int) -> tuple[str, str]:
        cell = (column, row)
        letter = self._letters.get(cell)
        if letter is None:
            bits = self._bits.get(cell, 0)
            letter = chr(_BRAILLE + bits) if bits else " "
        return (letter, self._styles.get(cell, ""))
