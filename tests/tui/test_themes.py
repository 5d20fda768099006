"""Both colour themes are readable: contrast by WCAG 2.2 (W3C 2023), criterion 1.4.3, 4.5 to 1 for text."""

import pytest

from tui import themes


def luminance(colour: str) -> float:
    """Relative luminance of sRGB, WCAG 2.2, "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_on_black_and_white() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("theme", [themes.DARK, themes.LIGHT], ids=lambda theme: theme.name)
def test_text_stands_out(theme) -> None:  # type: ignore[no-untyped-def]
    colours = theme.variables
    pairs = [
        (theme.foreground, theme.background),
        (theme.foreground, theme.surface),
        (theme.foreground, theme.panel),
        (colours["quiet"], theme.background),
        (colours["quiet"], theme.surface),
        (colours["accent-text"], theme.accent),
        *(
            (colours[f"{name}-text"], colours[name])
            for name in ("danger", "warning-sign", "caution", "notice")
        ),
    ]
    for text, ground in pairs:
        assert contrast(text, ground) >= 4.5, f"{text} on {ground}"


def test_sixteen_colours_use_only_the_terminals_own() -> None:
    theme = themes.SIXTEEN
    given = (theme.primary, theme.accent, theme.error, theme.background, theme.foreground, theme.surface)
    assert theme.ansi
    assert all(str(colour).startswith("ansi_") for colour in given)
    for name in (
        "danger",
        "danger-text",
        "warning-sign",
        "caution",
        "notice",
        "quiet",
        "accent-text",
        "rule",
    ):
        assert theme.variables[name].startswith("ansi_")


@pytest.mark.parametrize(
    ("system", "name"),
    [("truecolor", "dark"), ("256", "dark"), ("standard", "16 colours"), (None, "16 colours")],
)
def test_a_terminal_of_few_colours_begins_with_them(system: str | None, name: str) -> None:
    assert themes.first_theme(system) == name


def test_themes_come_round() -> None:
    assert [themes.next_theme(name) for name in themes.NAMES] == [*themes.NAMES[1:], themes.NAMES[0]]
    assert themes.next_theme("gone") == themes.NAMES[0]
