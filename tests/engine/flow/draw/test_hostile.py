"""Any flow at all can be drawn: rings, ways to nowhere, lost steps, any text; no crash, no line too wide."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.flow.draw.cells import cells, wrapped
from engine.flow.draw.layout import laid_out
from engine.flow.draw.mermaid import mermaid_lines
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import StepRow
from engine.flow.draw.svg.sheets import svg
from engine.flow.draw.text import text_lines
from engine.flow.draw.wording import Wording
from engine.flow.model import RESUME, Caution, Flow, Step
from engine.flow.plain import plain
from tests.engine.flow.draw.made import flow, step
from tests.engine.flow.draw.test_mermaid import _LINE

BOUNDED = settings(
    max_examples=300, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)

TEXTS = st.text(max_size=60) | st.sampled_from(
    [
        "",
        " ",
        "\x1b[2J",
        "\u202eback",
        "中文" * 50,
        "e\u0301" * 40,
        "👩‍🔧" * 9,
        "x" * 3000,
        "\ud800",
        "&<>\"'",
        "\n\n",
    ]
)
IDS = st.sampled_from([f"s{n}" for n in range(8)])
TARGETS = IDS | st.sampled_from([RESUME, "nowhere"])


@st.composite
def steps(draw: st.DrawFn) -> Step:
    kinds = draw(
        st.sets(st.sampled_from(["set", "record", "settle", "conclude", "for", "most", "end", "resume"]))
    )
    return step(
        draw(IDS),
        draw(TARGETS | st.lists(st.tuples(TEXTS, TARGETS), max_size=5)),
        title=draw(TEXTS),
        exposure=tuple(draw(st.lists(TEXTS, max_size=3))),
        cautions=tuple(
            draw(st.lists(st.sampled_from(["burst", "shock", "note", "odd", "none"]), max_size=5))
        ),
        set=draw(st.sampled_from(["loaded", "nothing"])) if "set" in kinds else None,
        settle=draw(st.floats(0, 1e6)) if "settle" in kinds else None,
        record=("low_side",) if "record" in kinds else (),
        conclude=("weak", "nothing") if "conclude" in kinds else (),
        for_=("weak",) if "for" in kinds else (),
        skip_to=draw(TARGETS) if "for" in kinds else None,
        at_most=2 if "most" in kinds else None,
        then=draw(TARGETS) if "most" in kinds else None,
        end="end" in kinds,
        resume="resume" in kinds,
    )


@st.composite
def flows(draw: st.DrawFn) -> Flow:
    made = draw(st.lists(steps(), max_size=10))
    odd = Caution("odd", draw(TEXTS), "", "")
    return flow(
        *made,
        watch=draw(st.lists(st.tuples(TEXTS, TARGETS), max_size=2)),
        title=draw(TEXTS),
        start=draw(TARGETS),
        cautions={**flow().cautions, "odd": odd},
    )


OVERLAYS = st.none() | st.builds(
    Overlay,
    TEXTS,
    st.dictionaries(IDS, st.integers(0, 10**9), max_size=5),
    st.dictionaries(st.tuples(IDS, TARGETS), st.integers(0, 10**9), max_size=5),
    st.none() | st.integers(0, 10**9),
    st.none() | TARGETS,
)


@BOUNDED
@given(flows(), OVERLAYS, st.sampled_from([1, 20, 40, 80, 300]))
def test_any_flow_as_text_mermaid_and_svg(made: Flow, overlay: Overlay | None, width: int) -> None:
    """In one test, since making up a flow costs more than drawing it in three forms."""
    plan = laid_out(made)
    assert sorted(row.step.id for row in plan.rows if isinstance(row, StepRow)) == sorted(made.steps)
    for line in text_lines(plan, width, overlay):
        text = str(line)
        assert plain(text) == text
        assert "\n" not in text
        if width >= 40 and (overlay is None or overlay.vehicles is None):
            assert cells(text) <= width
    for line in mermaid_lines(laid_out(made), overlay):
        assert _LINE.fullmatch(line), line
    drawn = svg(laid_out(made), overlay)
    drawn.encode("utf-8")
    ET.fromstring(drawn)


@BOUNDED
@given(st.text(max_size=200))
def test_any_text_as_a_condition(text: str) -> None:
    said = Wording(flow()).condition(text)
    assert plain(said) == said
    assert "\n" not in said


@BOUNDED
@given(st.text(max_size=300), st.integers(0, 90))
def test_wrapping_keeps_every_letter_and_the_width(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert all(cells(line) <= max(width, 8) for line in lines)
    if len(lines) > 1:
        assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_title_of_a_million_letters() -> None:
    made = flow(step("a", "b", title="x" * 1_000_000), step("b", title="中" * 300_000))
    assert max(len(str(line)) for line in text_lines(laid_out(made), 80)) <= 80
    assert len(svg(laid_out(made))) < 20_000


def test_a_thousand_rules_to_one_step_are_told_and_counted() -> None:
    made = flow(
        step("a", [*((f"r{n}", "b") for n in range(1000)), ("", "c")]),
        step("b", "d"),
        step("c", "d"),
        step("d"),
    )
    text = " ".join(" ".join(str(line).strip("│") for line in text_lines(laid_out(made), 80)).split())
    assert "if r7," in text
    assert "r8" not in text
    assert "if one of 992 more rules holds" in text


@pytest.mark.parametrize("count", [0, 1])
def test_hardly_any_step(count: int) -> None:
    made = flow(*(step(f"s{n}") for n in range(count)))
    assert len(list(text_lines(laid_out(made)))) >= count
    ET.fromstring(svg(laid_out(made)))
    assert next(mermaid_lines(laid_out(made))) == "flowchart TD"
