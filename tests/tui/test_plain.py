"""Text from outside cannot steer the terminal or turn a line round."""

import pytest

from tui.plain import literal, one_line, plain


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("red \x1b[31malarm\x1b[0m", "red alarm"),
        ("title \x1b]0;owned\x07here", "title here"),
        ("link \x1b]8;;http://x\x1b\\y", "link y"),
        ("bell\x07 and null\x00", "bell and null"),
        ("over\rwrite", "overwrite"),
        ("c1 \x9b31m", "c1 31m"),
        ("\u202egnp.exe\u202c", "gnp.exe"),
        ("a\u2066b\u2069c\u200fd", "abcd"),
        ("tab\tstop", "tab stop"),
        ("two\nlines", "two\nlines"),
        ("12 °C, Δp, 中文 stay", "12 °C, Δp, 中文 stay"),
        ("a lone escape \x1b", "a lone escape "),
    ],
)
def test_control_codes_and_overrides_are_taken_out(hostile: str, shown: str) -> None:
    assert plain(hostile) == shown


def test_one_line_joins_what_was_broken() -> None:
    assert one_line("  two\nlines \t here ") == "two lines here"


def test_brackets_are_text_and_not_markup() -> None:
    content = literal("[bold red]x[/] [@click=app.quit]y[/]")
    assert content.plain == "[bold red]x[/] [@click=app.quit]y[/]"
    assert not content.spans
