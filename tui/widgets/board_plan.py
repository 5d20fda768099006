"""How the board's columns are laid out in a width, and which sets show where not all fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.job.compare import BoardModel, Column

BAND_WIDTH = len("NORMAL")
LEAST_COLUMN = 8
LEAST_LABEL, LONGEST_LABEL = 11, 40


@dataclass(frozen=True, slots=True)
class Drawn:
    """One cell as text: the figure (or a word), the change beside it and the band word."""

    figure: str
    arrow: str = ""
    band: str = ""
    style: str = ""
    word: bool = False  # a word may run on over the room of the change


@dataclass(frozen=True, slots=True)
class Plan:
    """Widths in cells. `band` 0 puts the band word below its figure; `long` says that labels are in full.

    `close` leaves no blank between figure and change.
    """

    label: int
    figure: int
    arrow: int
    band: int
    gap: int
    long: bool
    close: bool
    shown: tuple[int, ...]  # indexes of the sets that fit

    @property
    def column(self) -> int:
        beside = self.arrow + (0 if self.close else 1) if self.arrow else 0
        return max(self.figure + beside + (self.band + 1 if self.band else 0), LEAST_COLUMN)


def plan(
    model: BoardModel,
    cells: Sequence[Sequence[Drawn]],
    labels: tuple[int, int],
    width: int,
    first: int | None = None,
) -> Plan:
    """The roomiest layout that shows every set, else the tightest with a window of sets.

    `labels` are the longest full and the longest short label; `first` is the leftmost set wanted.
    """
    flat = [cell for row in cells for cell in row]
    figure = max([len(cell.figure) for cell in flat if not cell.word] + [4])
    arrow = max([len(cell.arrow) for cell in flat] + [0])
    band = BAND_WIDTH if any(cell.band for cell in flat) else 0
    everyone = tuple(range(len(model.columns)))
    full, short = labels
    for tried in (
        Plan(min(full, LONGEST_LABEL), figure, arrow, band, 2, True, False, everyone),
        Plan(short, figure, arrow, band, 2, False, False, everyone),
        Plan(short, figure, arrow, 0, 2, False, False, everyone),
    ):
        if tried.label + len(everyone) * (tried.column + tried.gap) <= width:
            return tried
    return _tight(model, short, figure, arrow, width, first)


def _tight(model: BoardModel, short: int, figure: int, arrow: int, width: int, first: int | None) -> Plan:
    """No blank wasted, labels wrapped if a second set fits beside the first that way."""
    tight = Plan(short, figure, arrow, 0, 1, False, True, ())
    each = tight.column + tight.gap
    label = min(short, max(width - 2 * each, LEAST_LABEL))
    fits = max((width - label) // each, 1)
    return replace(tight, label=label if fits > 1 else short, shown=_window(model.columns, fits, first))


def _window(columns: tuple[Column, ...], fits: int, first: int | None) -> tuple[int, ...]:
    """The sets that show: those from `first` on, or the one being taken with its partner and those near."""
    count = len(columns)
    if fits >= count:
        return tuple(range(count))
    if first is not None:
        start = max(0, min(first, count - fits))
        return tuple(range(start, start + fits))
    now = next((place for place, column in enumerate(columns) if column.current), count - 1)
    partner = next((p for p, column in enumerate(columns) if column.label == columns[now].compared_with), now)
    near = sorted(range(count), key=lambda place: (place != now, place != partner, abs(place - now), -place))
    return tuple(sorted(near[:fits]))
