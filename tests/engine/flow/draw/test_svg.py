"""The SVG: well-formed, alone in the world, every step there, all text inside its box and sheet."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from engine.flow.draw.layout import laid_out
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.svg.blocks import LEFT, RIGHT
from engine.flow.draw.svg.shapes import measure
from engine.flow.draw.svg.sheets import HEIGHT, WIDTH, svg
from engine.flow.model import Flow
from tests.engine.flow.draw.made import flow, main_flow, step, trunk_and_branches
from tests.engine.flow.draw.test_mermaid import HOSTILE
from tests.engine.flow.small import load

SVG = "{http://www.w3.org/2000/svg}"
FLOWS = {"main": main_flow(), "small": load(), "three hundred": trunk_and_branches(300)}


@pytest.mark.parametrize("made", FLOWS.values(), ids=[*FLOWS])
def test_well_formed_and_complete(made: Flow) -> None:
    drawn = svg(laid_out(made))
    root = ET.fromstring(drawn)
    groups = [one.get("id", "") for one in root.iter(f"{SVG}g") if one.get("id")]
    assert sorted(groups) == sorted(f"step-{n}" for n in range(1, len(made.steps) + 1))
    texts = " ".join("".join(text.itertext()) for text in root.iter(f"{SVG}text"))
    for one in made.steps.values():
        assert one.title.split()[0] in texts


@pytest.mark.parametrize("made", FLOWS.values(), ids=[*FLOWS])
def test_nothing_outside_the_file_is_needed(made: Flow) -> None:
    drawn = svg(laid_out(made))
    assert re.findall(r"(?:href|src)=[\"'](?!#)", drawn) == []
    assert "url(" not in drawn
    assert "@import" not in drawn
    assert "<script" not in drawn
    assert re.findall(r"https?://[^\"]*", drawn) == ["http://www.w3.org/2000/svg"]  # a name, not an address
    ids, links = set(re.findall(r' id="([^"]*)"', drawn)), set(re.findall(r'href="#([^"]*)"', drawn))
    assert links <= ids


@pytest.mark.parametrize("made", FLOWS.values(), ids=[*FLOWS])
def test_text_stays_on_its_sheet(made: Flow) -> None:
    """By the measure of a wide face, each text ends before the right edge; boxes lie within their sheets."""
    root = ET.fromstring(svg(laid_out(made)))
    assert root.get("viewBox") == f"0 0 {WIDTH} {HEIGHT * len(root.findall(f'{SVG}g'))}"
    for sheet in root.findall(f"{SVG}g"):
        for block in sheet.findall(f"{SVG}g"):
            top = float(re.findall(r"[\d.]+", block.get("transform", ""))[1])
            for box in block.iter(f"{SVG}rect"):
                assert top + float(box.get("y", 0)) + float(box.get("height", 0)) <= HEIGHT
                assert float(box.get("x", 0)) >= LEFT
                assert float(box.get("x", 0)) + float(box.get("width", 0)) <= RIGHT + 0.01
        for text in sheet.iter(f"{SVG}text"):
            if text.get("class") in ("way", "note", "title", "where"):
                size, bold = (
                    (13, True) if text.get("class") == "title" else (11, text.get("class") == "where")
                )
                assert float(text.get("x", 0)) + measure(size, bold)("".join(text.itertext())) <= RIGHT + 0.01


def test_hostile_text_is_only_text() -> None:
    title = HOSTILE + " \x00\ufffe\ud800 ]]>"
    made = flow(step("a", [(title, "b"), ("", "c")], title=title), step("b"), step("c"), title=title)
    drawn = svg(laid_out(made), Overlay(title, {"a": 2}, {("a", "b"): 1}, here="b"))
    root = ET.fromstring(drawn)
    drawn.encode("utf-8")
    assert not list(root.iter(f"{SVG}script"))
    assert "<script>alert(1)</script>" in "".join(root.itertext())


def test_the_path_of_a_job_and_the_traffic_of_a_trial() -> None:
    made = flow(step("a", [("x", "b"), ("", "c")]), step("b"), step("c"))
    path = svg(laid_out(made), Overlay("", {"a": 1, "c": 1}, {("a", "c"): 1}, here="c"))
    assert path.count('class="box here"') == 1
    assert path.count('class="box passed"') == 1
    assert ">HERE<" in path
    traffic = svg(laid_out(made), Overlay("", {"a": 9, "c": 8}, {("a", "c"): 8, ("a", "b"): 1}, vehicles=9))
    assert ">9 visits<" in traffic
    assert ">never<" in traffic
    assert "(1 time)" in traffic
    assert "(8 times)" in traffic


def test_the_same_flow_gives_the_same_file() -> None:
    assert svg(laid_out(main_flow())) == svg(laid_out(main_flow()))
