"""Reading YAML: everything is text, everything has its place, and nothing clever is allowed."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

import pytest
import yaml

from engine.flow import positions
from engine.flow.positions import Document, read
from engine.flow.problem import Place, Problems
from tests.engine.flow.small import FLOW


def parse(text: str | bytes) -> tuple[Document | None, list[str]]:
    problems = Problems()
    data = text if isinstance(text, bytes) else text.encode()
    document = read(data, "x.yaml", problems)
    return document, [str(problem) for problem in problems.sorted()]


def good(text: str) -> Document:
    document, problems = parse(text)
    assert problems == []
    assert document is not None
    return document


def test_scalars_stay_text() -> None:
    plain = good(
        "a: yes\nb: off\nc: 12:30\nd: 017\ne: 1_000\nf: ~\ng: 1e3\nh:\ni: [true, null]\nno: x\n"
    ).plain()
    assert plain == {
        "a": "yes",
        "b": "off",
        "c": "12:30",
        "d": "017",
        "e": "1_000",
        "f": "~",
        "g": "1e3",
        "h": "",
        "i": ["true", "null"],
        "no": "x",
    }


def test_places_of_values_keys_items_and_of_what_is_missing() -> None:
    document = good("top:\n  list: [one, two]\n  block:\n    - {name:   deep}\nlast: 'quoted text'\n")
    assert document.place("top", "list", 1) == Place("x.yaml", 2, 15)
    assert document.place("top", "list") == Place("x.yaml", 2, 3)
    assert document.place("top", "block", 0, "name") == Place("x.yaml", 4, 16)
    assert document.place("top", "block", 0, "name", key=True) == Place("x.yaml", 4, 8)
    assert document.place("top", "block", 0, "nothing") == Place("x.yaml", 4, 7)
    assert document.place("top", "nothing") == Place("x.yaml", 1, 1)
    assert document.place("last", offset=3) == Place("x.yaml", 5, 11)


@pytest.mark.parametrize(
    ("text", "column"),
    [("a: 0123456789", 9), ("a: '0123456789'", 10), ('a: "0123456789"', 10), ('a: "\\x41123456789"', 4)],
)
def test_an_offset_counts_only_where_the_text_stands_as_it_is(text: str, column: int) -> None:
    assert good(text).place("a", offset=5) == Place("x.yaml", 1, column)


def test_columns_count_characters_not_bytes() -> None:
    assert good("a: {ä°ö: 1, b: 2}").place("a", "b", key=True) == Place("x.yaml", 1, 13)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: 1\nb: 2\na: 3\n", "x.yaml:3:1: key 'a' is here twice, the first one is in line 1"),
        ("a: &x 1\nb: 2\n", "x.yaml:1:4: anchor '&x' is not allowed, write the value where it is needed"),
        ("a: *x\n", "x.yaml:1:4: alias '*x' is not allowed, write the value out"),
        ("a: !!int 3\n", "x.yaml:1:4: tag 'tag:yaml.org,2002:int' is not allowed, delete it, all values are text"),
        ("a: !!python/object:os.system {}\n", "x.yaml:1:4: tag 'tag:yaml.org,2002:python/object:os.syste…' is not"),
        ("a: ! x\n", "x.yaml:1:4: tag '!' is not allowed"),
        ("%YAML 1.1\n---\na: 1\n", "a line beginning with % is not allowed"),
        ("a: 1\n---\nb: 2\n", "x.yaml:2:1: a second document begins here, keep one flow in one file"),
        ("? [a, b]\n: 1\n", "x.yaml:1:3: a key must be one word, not a list or mapping"),
        ("'': 1\n", "x.yaml:1:1: '' cannot be a key"),
        ("", "x.yaml:1:1: the file is empty"),
        ("# only a comment\n", "the file is empty"),
        ("a: b: c\n", "x.yaml:1:5: a second ':' in one line, put the text in quotes"),
        ("a:\n  - x\n b: 1\n", "this line is out of place"),
        ("a:\n\tb: 1\n", "x.yaml:2:1: text cannot begin with this character"),
        ("a: 'x\n", "a quote is opened and never closed, close it"),
        ("a: [x, y\nb: 1\n", "a list '[' is not closed"),
        ("a: {x: y\nb: 1\n", "a mapping '{' is not closed"),
        ("a: @x\n", "text cannot begin with this character, put it in quotes"),
        ('a: "\\q"\n', "an unknown escape after '\\', use single quotes"),
    ],
)  # fmt: skip
def test_refusals(text: str, expected: str) -> None:
    _, problems = parse(text)
    assert any(expected in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("text", "line", "column", "name"),
    [
        ("a: x\ny: b\x1b[31m\n", 2, 5, "U+001B"),
        ("a: x\x00\n", 1, 5, "U+0000"),
        ("a: x\x85y\n", 1, 5, "U+0085"),
        ("a: x\u2028y\n", 1, 5, "U+2028"),
        ("a: ab\u202ecd\n", 1, 6, "U+202E"),
        ("a: ab\u2066cd\n", 1, 6, "U+2066"),
        ("a: x\ry\n", 1, 5, "U+000D"),
        ('a: 1\nb: "\\x1b[31m"\n', 2, 4, "U+001B"),
        ('b: "\\u202e"\n', 1, 4, "U+202E"),
        ('b: "\\x7f"\n', 1, 4, "U+007F"),
    ],
)
def test_characters_that_cannot_be_seen_are_refused_raw_and_escaped(
    text: str, line: int, column: int, name: str
) -> None:
    _, problems = parse(text)
    assert problems == [
        f"x.yaml:{line}:{column}: character {name} cannot be seen and is not allowed in a flow, delete it"
    ]


def test_tabs_and_line_ends_inside_text_are_fine() -> None:
    assert good('a: "x\\ty"\nb: |\n  one\n  two\n').plain() == {"a": "x\ty", "b": "one\ntwo\n"}


def test_not_utf8_says_where() -> None:
    _, problems = parse(b"a: 1\nb: x\xff\n")
    assert problems == ["x.yaml:2:5: this is not UTF-8 text, save the file as UTF-8"]


def test_all_refusals_of_a_file_are_reported_together() -> None:
    _, problems = parse("a: &x 1\nb: *x\nb: 2\nc: !t 3\n")
    assert [problem.split(":")[1] for problem in problems] == ["1", "2", "3", "4"]


def test_the_parser_of_plain_python_does_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the C parser is missing, flows load as well, with the same places, and hostile ones are refused."""
    by_c = good(FLOW)
    monkeypatch.setattr(positions, "_LOADER", yaml.Loader)
    by_python = good(FLOW)
    assert by_python.plain() == by_c.plain()
    for path in (
        ("steps", "more-load", "next", 0, "when"),
        ("readings", "fan", "choices"),
        ("watch", 0, "go"),
    ):
        assert by_python.place(*path) == by_c.place(*path)
        assert by_python.place(*path, key=True) == by_c.place(*path, key=True)
    assert parse("[" * 5_000)[1] == [
        "x.yaml:1:21: nested deeper than 20 levels, no part of a flow is that deep"
    ]
    assert parse("a: &x [*x]\nb: !!int 3\n")[1] == [
        "x.yaml:1:4: anchor '&x' is not allowed, write the value where it is needed",
        "x.yaml:1:8: alias '*x' is not allowed, write the value out",
        "x.yaml:2:4: tag 'tag:yaml.org,2002:int' is not allowed, delete it, all values are text",
    ]


def test_depth_is_limited() -> None:
    assert good("[" * 20 + "]" * 20).plain()
    _, problems = parse("[" * 21 + "]" * 21)
    assert problems == ["x.yaml:1:21: nested deeper than 20 levels, no part of a flow is that deep"]


def test_the_number_of_nodes_is_limited() -> None:
    _, problems = parse("[" + "a," * 100_001 + "]")
    assert problems == ["x.yaml:1:200000: more than 100000 keys and values, no flow is that large"]
