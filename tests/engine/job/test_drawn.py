"""A walk as the path that is laid over the drawing."""

from __future__ import annotations

from engine.flow.draw.layout import laid_out
from engine.flow.draw.plan import WayRow
from engine.flow.draw.text import as_text, text_lines
from engine.flow.load import load_bundle
from engine.flow.model import SetState, Step, Watch
from engine.job.drawn import path_overlay
from engine.job.walk import begin

from .little import flow, is_, over, rules, through, to

LOADED = SetState("loaded", "Loaded", "raised")
FLOW = flow(
    Step(
        "look",
        "Look",
        ask=("turns",),
        next=rules((is_("turns", "no"), "end"), unknown="load", otherwise="load"),
    ),
    Step("load", "Load", set="loaded", record=("high_side",), at_most=2, then="end", next=to("again")),
    Step(
        "again",
        "Again?",
        ask=("turns",),
        next=rules((is_("turns", "no"), "load"), unknown="end", otherwise="end"),
    ),
    Step("cool", "Cool down", do="Wait.", resume=True),
    Step("end", "End", do="Caps on.", end=True),
    sets=(LOADED,),
    watch=(Watch("limit", over("high_side", 400.0), "cool", "It is at its limit."),),
)


def test_where_the_job_stands_counts_as_a_visit() -> None:
    overlay = path_overlay(begin(FLOW))
    assert (overlay.here, overlay.visits, overlay.moves) == ("look", {"look": 1}, {})
    assert overlay.is_path


def test_visits_and_moves_on_the_way() -> None:
    overlay = path_overlay(through(begin(FLOW), "yes", 200.0, "no"), "job 7")
    assert overlay.here == "load"
    assert overlay.visits == {"look": 1, "load": 2, "again": 1}
    assert overlay.moves == {("look", "load"): 1, ("load", "again"): 1, ("again", "load"): 1}
    assert "job 7" in overlay.caption


def test_a_step_that_was_tried_often_enough_is_passed_and_not_visited() -> None:
    overlay = path_overlay(through(begin(FLOW), "yes", 200.0, "no", 210.0, "no"))
    assert overlay.here is None
    assert overlay.visits["load"] == 2
    assert overlay.moves["load", "end"] == 1
    assert "finished" in overlay.caption


def test_an_interruption_is_the_watch_rules_way_and_no_way_of_the_step() -> None:
    overlay = path_overlay(through(begin(FLOW), "yes", 500.0))
    rows = [row for row in laid_out(FLOW).rows if isinstance(row, WayRow) and overlay.along(row)]
    taken = [(row.way.source, row.way.target) for row in rows]
    assert [target for source, target in taken if source.startswith("(watch)")] == ["cool"]
    assert ("load", "cool") not in overlay.moves
    assert overlay.moves["cool", "load"] == 1  # resumed there, as a new visit
    assert overlay.visits["load"] == 2


HEAD = "format: 1\nflow: {name}\nrevision: 1\ntitle: {title}\nabout: Made up.\nstart: look\n"
FIRST = (
    HEAD.format(name="first", title="The first flow")
    + """\
readings: {turns: {label: Hub turns, choices: {yes: It turns, no: It stands}}}
steps:
  look:
    title: Does it turn
    do: Look.
    ask: [turns]
    next: [{when: turns is no, go: stands}, {unknown: other}, {otherwise: other}]
  stands: {title: It stands, proved: bad}
  other: {title: Another question, hand_over: second, carry: [turns]}
findings: {bad: {title: Bad, means: It is bad.}}
"""
)
SECOND = (
    HEAD.format(name="second", title="The second flow")
    + """\
readings:
  turns: {label: Hub turns, choices: {yes: It turns, no: It stands}}
  noise: {label: Noise, choices: {yes: Loud, no: None}}
steps:
  look: {title: Does it turn still, do: Look., ask: [turns], next: hear}
  hear: {title: Is it loud, do: Listen., ask: [noise], next: say}
  say: {title: Say it, proved: worn}
findings: {worn: {title: Worn, means: It is worn.}}
"""
)


def test_a_job_that_was_handed_over_is_drawn_over_both_flows() -> None:
    both = load_bundle({"first.yaml": FIRST.encode(), "second.yaml": SECOND.encode()}, "first.yaml")
    walk = through(begin(both), "yes")
    overlay, plan = path_overlay(walk), laid_out(walk.job_flow)
    assert overlay.here == "second/hear"
    assert overlay.visits == {"look": 1, "other": 1, "second/hear": 1}  # what was carried is passed over
    assert list(plan.numbers) == ["look", "stands", "other", "second/look", "second/hear", "second/say"]
    taken = {row.way.target for row in plan.rows if isinstance(row, WayRow) and overlay.along(row)}
    assert taken == {"other", "second/look", "second/hear"}
    assert "GOES ON IN: THE SECOND FLOW" in as_text(text_lines(plan, 80, overlay))
