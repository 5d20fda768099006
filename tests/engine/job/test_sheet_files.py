"""A sheet as a file: whole, to be printed, and deaf to whatever stands in flows and answers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from engine.flow.library import Source
from engine.job.session import Session
from engine.job.sheet import DeclaredUnits, Sheet, build_sheet, to_html, to_markdown
from engine.job.sheet.blocks import Blanks, Bullets, Lines, Section, Table, Text
from engine.job.sheet.markdown import escaped
from engine.job.sheet.teller import clean
from engine.job.store import Store
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player

HOSTILE = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "' onmouseover='alert(1)",
    "{{ 7*7 }}{% for x in y %}",
    "[click](javascript:alert(1))",
    "![x](http://example.org/x.png)",
    "http://example.org/x www.example.org a@example.org",
    "| a | b |",
    "*bold* _it_ `code` ~~gone~~ $x^2$ &lt;",
    "# heading",
    "- item",
    "1. item",
    "1) item",
    "+ item",
    "--- ",
    "===",
    "> quote",
    "    code",
    "```\nfence",
    "two\n\nparagraphs",
    "<!-- gone -->",
    "a\\",
    "\\",
    "<https://example.org>",
    "[ref]: http://example.org",
    "[^1]",
    ":::",
)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "home") as opened:
        yield opened


class Page(HTMLParser):
    """What a browser would find in a page."""

    VOID = frozenset({"meta", "br", "hr", "img", "link", "input"})

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data


def sheet_with(text: str) -> Sheet:
    """Every kind of block holding that text everywhere."""
    return Sheet(
        text,
        text,
        (
            Section(
                text,
                (
                    Text(text),
                    Text(text, strong=True),
                    Lines(((text, text),)),
                    Bullets(text, (text,)),
                    Table((text, text), ((text, text),)),
                    Blanks((text,)),
                ),
            ),
        ),
    )


def test_a_page_is_whole_and_asks_for_nothing() -> None:
    page = Page(to_html(sheet_with("plain")))
    assert page.open == []
    names = {tag for tag, _ in page.tags}
    assert names.isdisjoint({"script", "link", "img", "iframe", "object", "embed", "form", "a", "base"})
    attributes = {name for _, attrs in page.tags for name in attrs}
    assert attributes <= {"lang", "charset", "http-equiv", "content", "name", "class", "scope"}
    policy = next(attrs["content"] for tag, attrs in page.tags if attrs.get("http-equiv"))
    assert policy == "default-src 'none'; style-src 'unsafe-inline'"
    assert "@page" in to_html(sheet_with("plain"))
    assert not re.search(r"url\(|@import|https?:", to_html(sheet_with("plain")))


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_only_text_in_a_page(text: str) -> None:
    harmless, hostile = Page(to_html(sheet_with("x"))), Page(to_html(sheet_with(text)))
    assert hostile.tags == harmless.tags
    assert hostile.open == []
    assert hostile.text.count(text) == harmless.text.count("x") - CSS_X


CSS_X = Page(to_html(sheet_with("\x00"))).text.count("x")
"""How often the letter stands in the style sheet and elsewhere anyway."""

reader = MarkdownIt("commonmark", {"html": True, "linkify": True}).enable(
    ["table", "strikethrough", "linkify"]
)


def shown(tokens: list[Token]) -> str:
    """The text a reader of Markdown would see, blocks apart by line feeds."""
    lines = []
    for token in tokens:
        if token.type == "inline":
            for child in token.children or []:
                assert child.type in ("text", "text_special", "strong_open", "strong_close"), child.type
            lines.append("".join(child.content for child in token.children or []))
        else:
            assert token.type not in ("html_block", "code_block", "fence", "blockquote_open", "hr"), (
                token.type
            )
    return "\n".join(lines)


def check_markdown(text: str) -> None:
    """What stands in a sheet's Markdown is seen as it is, and nothing else than for harmless text."""
    line = " ".join(text.split())
    if not line:
        return
    hostile, harmless = (
        reader.parse(to_markdown(sheet_with(text))),
        reader.parse(to_markdown(sheet_with("x"))),
    )
    assert [token.type for token in hostile] == [token.type for token in harmless]
    assert shown(hostile) == "\n".join(
        seen if "x" not in seen else seen.replace("x", line) for seen in shown(harmless).split("\n")
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_only_text_in_markdown(text: str) -> None:
    check_markdown(text)


@given(st.text(st.sampled_from("ab1 .-+#*_`~[]()<>|\\!&;:/@$^={}\"'wW\n\t"), min_size=1, max_size=24))
def test_any_text_is_only_text_in_markdown(text: str) -> None:
    check_markdown(clean(text))


def test_what_people_read_often_stays_readable() -> None:
    for usual in ("41 psi, normal; up 3 psi", "R-134a", "14.7 psia", "R-744 (CO2)", "-3 degC"):
        assert escaped(usual).replace("\\-3", "-3") == usual


def test_control_codes_and_turning_marks_are_left_out() -> None:
    assert clean("a\x1b[31mb\x00c\u202ed\u2066e\x9b\ud800f\r\ng\u2028h") == "a[31mbcdef  g h"
    assert clean("déjà 冷 ❄️") == "déjà 冷 ❄️"


async def test_a_hostile_job_gives_a_harmless_sheet(store: Store, tmp_path: Path) -> None:
    flow = tmp_path / "mild_day.yaml"
    nasty = "<script>alert(1)</script> [x](javascript:y) {{ 7*7 }}"
    source = MILD_DAY.path.read_text().replace("title: Look first", f'title: "{nasty}"')
    flow.write_text(
        source.replace("label: Ambient air", f'label: "{nasty}"').replace("made up}", f'"{nasty}"}}')
    )
    clock = Clock()
    session = await Session.start(
        store, Source("own", flow), clock=clock, vehicle=f"{nasty}\x1b]0;x\x07\u202e"
    )
    await session.note(nasty)
    await Player(session, clock, HEALTHY).finish()
    sheet = build_sheet(session.flow, session.events, 1, DeclaredUnits())
    page = Page(to_html(sheet))
    assert {tag for tag, _ in page.tags}.isdisjoint({"script", "a", "img"})
    assert page.text.count("<script>alert(1)</script>") >= 5
    assert "\x1b" not in to_html(sheet)
    assert "\u202e" not in to_html(sheet)
    tokens = reader.parse(to_markdown(sheet))
    kinds = {child.type for token in tokens for child in token.children or []}
    assert kinds <= {"text", "text_special", "strong_open", "strong_close"}
    assert shown(tokens).count("<script>alert(1)</script>") >= 5


async def test_a_whole_job_as_a_page_and_as_markdown_says_the_same(store: Store) -> None:
    clock = Clock()
    session = await Session.start(store, MILD_DAY, clock=clock)
    await Player(session, clock, HEALTHY).finish()
    sheet = build_sheet(session.flow, session.events, 1, DeclaredUnits())
    page, markdown = Page(to_html(sheet)).text, shown(reader.parse(to_markdown(sheet)))
    for section in sheet.sections:
        assert section.title in page
        assert section.title in markdown
        for block in section.blocks:
            for text in told(block):
                assert text in page
                assert text in markdown


def told(block: object) -> list[str]:
    match block:
        case Text():
            return [block.text]
        case Lines():
            return [part for line in block.lines for part in line]
        case Bullets():
            return [block.title, *block.items]
        case Table():
            return [*block.head, *(cell for row in block.rows for cell in row)]
        case Blanks():
            return list(block.labels)
    raise AssertionError(block)


def test_the_sheet_s_own_words_tell_nobody_to_let_refrigerant_out() -> None:
    folder = Path(to_html.__code__.co_filename).parent
    for file in folder.rglob("*.*"):
        if file.suffix in (".py", ".j2"):
            words = file.read_text(encoding="utf-8").casefold()
            assert not re.search(r"\b(vent|purge|bleed|release|let out)\w*\b[^.]*\brefrigerant\b", words), (
                file
            )
