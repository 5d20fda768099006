"""The picture that README.md shows is one of the walk screen, made by the app."""

from xml.etree import ElementTree

from tui.key_table import README
from tui.picture import PICTURE, picture


def _words(svg: str) -> str:
    texts = (
        element.text or "" for element in ElementTree.fromstring(svg).iter() if element.tag.endswith("}text")
    )
    return " ".join(" ".join(texts).replace("\xa0", " ").split())


async def test_it_shows_the_walk_with_its_sets_side_by_side() -> None:
    shown = _words(await picture())
    for words in ("Is the compressor pumping what it is told to?", "Raise the heat load", "Baseline", "HIGH"):
        assert words in shown


def test_the_committed_one_is_the_same_kind_of_picture() -> None:
    shown = _words(PICTURE.read_text(encoding="utf-8"))
    assert "Raise the heat load" in shown
    assert "(tui/screen.svg)" in README.read_text(encoding="utf-8")
