"""The looks: dark, light, and one that uses only the terminal's own sixteen colours.

One accent, teal, which no signal word uses. Signal colours follow ANSI Z535.1 (safety red, orange, yellow and
blue); each stands with its word and sign, so nothing hangs on the colour.
"""

from __future__ import annotations

from textual.theme import BUILTIN_THEMES, Theme

_SIGNALS = {
    "danger": "#c8102e",
    "danger-text": "#ffffff",
    "warning-sign": "#f08519",
    "warning-sign-text": "#000000",
    "caution": "#f5c518",
    "caution-text": "#000000",
    "notice": "#1f5fa8",
    "notice-text": "#ffffff",
}
_SIGNALS_16 = {
    "danger": "ansi_red",
    "danger-text": "ansi_bright_white",
    "warning-sign": "ansi_yellow",
    "warning-sign-text": "ansi_black",
    "caution": "ansi_bright_yellow",
    "caution-text": "ansi_black",
    "notice": "ansi_blue",
    "notice-text": "ansi_bright_white",
}

DARK = Theme(
    name="dark",
    primary="#57b8a6",
    accent="#57b8a6",
    warning="#f0a04b",
    error="#ff7a70",
    success="#8fce7e",
    foreground="#e4e2dc",
    background="#15181a",
    surface="#1e2326",
    panel="#2a3135",
    dark=True,
    variables={**_SIGNALS, "quiet": "#9aa4a6", "accent-text": "#0c1413", "rule": "#39434a"},
)
LIGHT = Theme(
    name="light",
    primary="#0a6b5d",
    accent="#0a6b5d",
    warning="#9a4d00",
    error="#b3131c",
    success="#2d6a1e",
    foreground="#1c1f20",
    background="#faf8f3",
    surface="#efece4",
    panel="#e1ddd2",
    dark=False,
    variables={**_SIGNALS, "quiet": "#565c5e", "accent-text": "#ffffff", "rule": "#c9c4b6"},
)
SIXTEEN = Theme(
    name="16 colours",
    ansi=True,
    primary="ansi_cyan",
    accent="ansi_cyan",
    warning="ansi_yellow",
    error="ansi_red",
    success="ansi_green",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    variables={
        **BUILTIN_THEMES["ansi-dark"].variables,
        **_SIGNALS_16,
        "quiet": "ansi_default",
        "accent-text": "ansi_black",
        "rule": "ansi_cyan",
    },
)

THEMES = (DARK, LIGHT, SIXTEEN)
NAMES = tuple(theme.name for theme in THEMES)


def first_theme(color_system: str | None) -> str:
    """The theme to begin with on a terminal whose colour system Rich calls `color_system`."""
    return SIXTEEN.name if color_system in ("standard", "windows", None) else DARK.name


def next_theme(name: str) -> str:
    """The theme after `name`, round and round."""
    return NAMES[(NAMES.index(name) + 1) % len(NAMES)] if name in NAMES else NAMES[0]
