"""What the YAML parser complains of, in words for an author who knows no YAML grammar."""

from __future__ import annotations

import yaml

_WORDS = (
    # beginning of the parser's message, what we say, hint
    ("mapping values are not allowed", "a second ':' in one line", "put the text in quotes"),
    (
        "did not find expected key",
        "this line is out of place",
        "check the indent of this line and those before",
    ),
    ("could not find expected ':'", "a key without ':'", "check the quotes and the indent above this line"),
    (
        "did not find expected '-' indicator",
        "this line is out of place",
        "list items begin with '- ' in one column",
    ),
    (
        "found character that cannot start any token",
        "text cannot begin with this character",
        "put it in quotes",
    ),
    ("found a tab character", "a tab stands in the indent", "indent with spaces"),
    ("found unexpected end of stream", "a quote is opened and never closed", "close it"),
    ("did not find expected ',' or ']'", "a list '[' is not closed", "check commas, quotes and ']'"),
    ("did not find expected ',' or '}'", "a mapping '{' is not closed", "check commas, quotes and '}'"),
    ("did not find expected node content", "something is missing here", "check brackets, quotes and commas"),
    (
        "block sequence entries are not allowed",
        "a list item '- ' cannot begin here",
        "put it on a line of its own",
    ),
    ("found unknown escape character", "an unknown escape after '\\'", "use single quotes"),
    ("did not find expected <document start>", "this line is out of place", "check its indent"),
    ("found undefined tag handle", "a tag '!' is not allowed", "put the text in quotes"),
    ("found invalid Unicode character escape", "an escape that is no character", "delete it"),
)


def yaml_problem(error: yaml.MarkedYAMLError) -> tuple[str, str, yaml.Mark | None]:
    """What is wrong, what to do, and where."""
    raw = (error.problem or "").strip()
    mark = error.problem_mark or error.context_mark
    for beginning, what, hint in _WORDS:
        if raw.startswith(beginning):
            return what, hint, mark
    return f"this is not YAML ({raw})", "check indent, quotes and brackets around here", mark
