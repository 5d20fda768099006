"""How the board's columns are laid out in a width, and which sets show where not all fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.job.compare import BoardModel, Column

BAND_WIDTH = len("NORMAL")
LEAST_COLUMN = 8
LEAST_LABEL, LONGEST_LABEL = 11, 40
TRIMMED = 4  # cells of a figure, and of a change with its arrow, in a very narrow pane


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
    trimmed: bool  # figures are rounded to fit, see `trimmed`
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
    figure, arrow = _widths(flat)
    band = BAND_WIDTH if any(cell.band for cell in flat) else 0
    everyone = tuple(range(len(model.columns)))
    full, short = labels
    for tried in (
        Plan(min(full, LONGEST_LABEL), figure, arrow, band, 2, True, False, False, everyone),
        Plan(short, figure, arrow, band, 2, False, False, False, everyone),
        Plan(short, figure, arrow, 0, 2, False, False, False, everyone),
    ):
        if tried.label + len(everyone) * (tried.column + tried.gap) <= width:
            return tried
    exact = _tight(model.columns, Plan(short, figure, arrow, 0, 1, False, True, False, ()), width, first)
    if len(exact.shown) > 1:
        return exact
    cut = [trimmed(cell) for cell in flat]
    figure, arrow = _widths(cut)
    rounded = _tight(model.columns, Plan(short, figure, arrow, 0, 1, False, True, True, ()), width, first)
    return rounded if len(rounded.shown) > 1 else exact


def trimmed(cell: Drawn) -> Drawn:
    """The cell with decimals left out until figure and change fit a very narrow column."""
    if cell.word:
        return cell
    sign, change = cell.arrow[:1], cell.arrow[1:]
    return replace(cell, figure=_rounded(cell.figure, TRIMMED), arrow=sign + _rounded(change, TRIMMED - 1))


def _rounded(figure: str, room: int) -> str:
    decimals = len(figure.partition(".")[2])
    while len(figure) > room and decimals:
        decimals -= 1
        figure = f"{float(figure):.{decimals}f}"
    return figure


def _widths(cells: Sequence[Drawn]) -> tuple[int, int]:
    figure = max([len(cell.figure) for cell in cells if not cell.word] + [TRIMMED])
    return figure, max([len(cell.arrow) for cell in cells] + [0])


def _tight(columns: tuple[Column, ...], tight: Plan, width: int, first: int | None) -> Plan:
    """No blank wasted, labels wrapped if a second set fits beside the first that way."""
    each = tight.column + tight.gap
    label = min(tight.label, max(width - 2 * each, LEAST_LABEL))
    fits = max((width - label) // each, 1)
    return replace(tight, label=label if fits > 1 else tight.label, shown=_window(columns, fits, first))


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
