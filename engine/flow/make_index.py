"""`python -m engine.flow.make_index` writes flows/index.json; `--check` only says whether it is current."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence

from engine.flow.index import INDEX
from engine.flow.library import MAIN_FLOW, Source, shipped
from engine.flow.load import load_flow
from engine.flow.problem import FlowErrors

TRIAGE = "not_cold"


def in_order() -> list[Source]:
    """The shipped flows as listed: the main one, where to begin if nothing is known, then by name."""
    first = (MAIN_FLOW, TRIAGE)
    return sorted(
        shipped(), key=lambda one: (first.index(one.name) if one.name in first else len(first), one.name)
    )


def index_text() -> str:
    """What flows/index.json should hold. Raises FlowErrors if a shipped flow has problems."""
    entries = [
        {"name": flow.name, "title": flow.title, "revision": flow.revision, "about": flow.about}
        for flow in map(load_flow, in_order())
    ]
    return json.dumps(entries, indent=2, ensure_ascii=False) + "\n"


def main(arguments: Sequence[str] | None = None) -> int:
    """0 if the index is written or current, 1 if it is not current or a flow has problems."""
    parser = argparse.ArgumentParser(prog="engine.flow.make_index", description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing, say whether it is current")
    options = parser.parse_args(arguments)
    try:
        text = index_text()
    except FlowErrors as errors:
        print(errors, file=sys.stderr)
        return 1
    if not options.check:
        INDEX.write_text(text, encoding="utf-8")
        return 0
    if INDEX.is_file() and INDEX.read_text(encoding="utf-8") == text:
        return 0
    print(f"{INDEX} is out of date; run: python -m engine.flow.make_index", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
