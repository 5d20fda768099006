"""The first guards of a flow file: its size, its encoding, and characters that no honest flow holds."""

from __future__ import annotations

import re

from engine.flow.problem import Place, Problems

LARGEST = 1_000_000
"""Bytes of one flow file."""

LARGEST_TOGETHER = 4_000_000
"""Bytes of a flow with all its parts and all the flows it hands over to: 10,000 steps and more."""

# Control characters (C0 but tab and line ends, DEL, C1), the extra line ends of Unicode (an editor counts
# them otherwise than YAML does), marks that turn the reading direction round, and invisible joiners.
UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]"
)

SIZE_HINT = f"a flow file has at most {LARGEST // 1000} kB: split it, or check that it is the right file"


def decode(data: bytes, file: str, problems: Problems) -> str | None:
    """The text of a flow file, or None with the problem noted."""
    if len(data) > LARGEST:
        problems.add(Place(file), f"more than {LARGEST // 1000} kB", SIZE_HINT)
        return None
    try:
        text = data.removeprefix(b"\xef\xbb\xbf").decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        problems.add(Place(file, line, column), "this is not UTF-8 text", "save the file as UTF-8")
        return None
    return text if _refuse_unseen(text, file, problems) else None


def _refuse_unseen(text: str, file: str, problems: Problems) -> bool:
    found = UNSEEN.search(text.replace("\r\n", "\n\n"))  # same length, so offsets stay right
    if found is None:
        return True
    start = found.start()
    line = text.count("\n", 0, start) + 1
    column = start - (text.rfind("\n", 0, start) + 1) + 1
    problems.add(Place(file, line, column), unseen_words(found[0]), "delete it")
    return False


def unseen_words(character: str) -> str:
    """What to say of a character that `UNSEEN` found."""
    return f"character U+{ord(character):04X} cannot be seen and is not allowed in a flow"
