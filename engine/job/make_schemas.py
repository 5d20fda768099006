"""`python -m engine.job.make_schemas` writes flows/schema/; `--check` only says whether it is current."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from engine.job.schemas import FOLDER, SCHEMAS, schema_file, schema_text


def main(arguments: Sequence[str] | None = None) -> int:
    """0 if the schemas are written or current, 1 if one is not current."""
    parser = argparse.ArgumentParser(prog="engine.job.make_schemas", description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing, say whether they are current")
    options = parser.parse_args(arguments)
    stale = [kind for kind in SCHEMAS if not _is_current(kind)]
    if options.check:
        for kind in stale:
            told = f"{schema_file(kind)} is out of date; run: python -m engine.job.make_schemas"
            print(told, file=sys.stderr)
        return 1 if stale else 0
    FOLDER.mkdir(exist_ok=True)
    for kind in stale:
        schema_file(kind).write_text(schema_text(kind), encoding="utf-8")
    return 0


def _is_current(kind: str) -> bool:
    file = schema_file(kind)
    return file.is_file() and file.read_text(encoding="utf-8") == schema_text(kind)


if __name__ == "__main__":
    sys.exit(main())
