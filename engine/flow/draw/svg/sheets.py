"""A flow as SVG: A4 sheets one below the other, so that it can be read on screen and printed.

One user unit is a quarter of a millimetre: 11 units of text are a good 2.7 mm on paper. Nothing outside the
file is needed: no fonts, scripts, or links but those within it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import Plan
from engine.flow.draw.svg.blocks import LEFT, RIGHT, Block, Blocks
from engine.flow.draw.svg.shapes import line, text_at, wrapped, written
from engine.flow.draw.wording import short
from engine.flow.model import Flow
from engine.flow.suggest import counted

WIDTH, HEIGHT = 840, 1188
_TOP, _BOTTOM = 64.0, 1150.0
_UNIT_MM = 0.25

_STYLE = """
text { font-family: Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif; }
text { font-size: 11px; fill: #1c1f20; }
.paper { fill: #ffffff; }
.line { stroke: #4a5052; fill: none; }
.box { fill: #ffffff; stroke: #4a5052; stroke-width: 1.2; }
.ends { fill: #ececec; stroke-width: 2.4; }
.passed { fill: #dff1ed; stroke: #0a6b5d; stroke-width: 2.4; }
.here { fill: #bfe3db; stroke: #0a6b5d; stroke-width: 5; }
.never { stroke: #9aa4a6; stroke-dasharray: 5 4; }
.title { font-size: 13px; font-weight: bold; }
.load { font-weight: bold; fill: #0a4f8a; }
.caution { font-weight: bold; fill: #9c1c00; }
.end { font-weight: bold; }
.visits { font-weight: bold; text-anchor: end; }
.head { font-size: 16px; font-weight: bold; }
.where { font-weight: bold; }
.small { font-size: 10px; fill: #4a5052; }
.number { fill: #4a5052; }
.number-passed { fill: #0a6b5d; }
.letter { fill: #ffffff; stroke: #4a5052; stroke-width: 1.2; }
.number-text, .number-passed-text { fill: #ffffff; font-weight: bold; text-anchor: middle; }
.letter-text { font-weight: bold; text-anchor: middle; }
"""

KEY = (
    "Down the sheet is the trunk; A, B, C are ways aside. → names the step where one goes on, ↺ one that "
    "goes back. ▲ cautions by signal word, grey boxes are endings, round ones only decide."
)


def svg(plan: Plan, overlay: Overlay | None = None) -> str:
    """The drawing as an SVG file."""
    flow = plan.flows[0]
    blocks = Blocks(plan, overlay)
    head = _head(flow, overlay)
    sheets = list(_paged([head, *(blocks.of(row) for row in plan.rows)]))
    height = HEIGHT * len(sheets)
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" '
            f'width="{WIDTH * _UNIT_MM:g}mm" height="{height * _UNIT_MM:g}mm">',
            f"<title>{written(short(flow.title))}</title>",
            f"<style>{_STYLE}</style>",
            f'<rect width="{WIDTH}" height="{height}" class="paper"/>',
            *(part for place, sheet in enumerate(sheets) for part in _sheet(plan, sheet, place, len(sheets))),
            "</svg>\n",
        ]
    )


def _head(flow: Flow, overlay: Overlay | None) -> Block:
    """What stands once, on the first sheet."""
    titles = wrapped(short(flow.title), RIGHT - LEFT, 16, bold=True)
    told = [KEY, *([short(overlay.caption)] if overlay else [])]
    lines = [each for text in told for each in wrapped(text, RIGHT - LEFT, 11)]
    parts = text_at(LEFT, 18, titles, 20, "head") + text_at(LEFT, 20 + 20 * len(titles), lines, 15, "note")
    return Block(26.0 + 20 * len(titles) + 15 * len(lines), tuple(parts))


def _paged(blocks: Iterable[Block]) -> Iterator[list[tuple[float, Block]]]:
    """Blocks with their places, sheet by sheet; those that belong to the next one stay with it."""
    sheet: list[tuple[float, Block]] = []
    y = _TOP
    for group in _groups(blocks):
        if sheet and y + sum(block.height for block in group) > _BOTTOM:
            yield sheet
            sheet, y = [], _TOP
        for block in group:
            if sheet and y + block.height > _BOTTOM:  # the group is longer than a sheet
                yield sheet
                sheet, y = [], _TOP
            sheet.append((y, block))
            y += block.height
    yield sheet


def _groups(blocks: Iterable[Block]) -> Iterator[list[Block]]:
    group: list[Block] = []
    for block in blocks:
        group.append(block)
        if not block.keep:
            yield group
            group = []
    if group:
        yield group


def _sheet(plan: Plan, blocks: list[tuple[float, Block]], place: int, of: int) -> Iterator[str]:
    yield f'<g transform="translate(0 {place * HEIGHT})">'
    flow, steps = plan.flows[0], counted(len(plan.steps), "step")
    name = f"{flow.name}, revision {flow.revision}, {steps}. Sheet {place + 1} of {of}."
    yield from text_at(LEFT, 40, [name], 0, "small")
    yield line(LEFT, 48, RIGHT, 48, 0.8)
    for y, block in blocks:
        yield f'<g transform="translate(0 {y:g})">'
        yield from block.parts
        yield "</g>"
    yield "</g>"
