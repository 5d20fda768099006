"""Writing the flow to begin from into a folder: the flow, golden walks, and the schemas they point at."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from importlib.resources import files
from pathlib import Path

import flows
from engine.flow.library import shipped
from engine.flow.scalars import valid_name

_STANDS_FOR = "NAME"


class NotWritten(Exception):
    """Nothing was written; the message is a sentence with what to do."""


def write_starter(name: str, folder: Path) -> list[Path]:
    """Write the flow `name` into `folder`, which is made if need be; the files written, the flow first.

    Raises NotWritten for a name that cannot be or a file that is there already, and OSError; either leaves
    nothing behind.
    """
    _check_name(name)
    texts = _texts(name)
    taken = next((folder / each for each in texts if (folder / each).exists()), None)
    if taken is not None:
        raise NotWritten(
            f"{taken} is there already, and nothing is overwritten; choose another name or folder."
        )
    texts |= {each: text for each, text in _schemas().items() if not (folder / each).exists()}
    written: list[Path] = []
    try:
        for each, text in texts.items():
            _write(folder / each, text)
            written.append(folder / each)
    except OSError:
        for path in written:
            with suppress(OSError):
                path.unlink()
        raise
    return written


def _check_name(name: str) -> None:
    wrong = valid_name(name)
    if wrong is not None:
        raise NotWritten(f"{wrong[0]}; {wrong[1]}.")
    if name in (source.name for source in shipped()):
        raise NotWritten(f"a flow called '{name}' comes with the program; choose another name.")


def _texts(name: str) -> dict[str, str]:
    here = files(__package__)
    texts = {f"{name}.yaml": "flow.yaml", f"examples/{name}.yaml": "walks.yaml"}
    return {
        target: here.joinpath(source).read_text(encoding="utf-8").replace(_STANDS_FOR, name)
        for target, source in texts.items()
    }


def _schemas() -> Mapping[str, str]:
    """The schemas that the first lines point at; those that are there already serve as well."""
    folder = Path(flows.__file__).parent
    paths = [path.relative_to(folder) for path in sorted((folder / "schema").glob("*.json"))]
    return {str(path): (folder / path).read_text(encoding="utf-8") for path in paths}


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("x", encoding="utf-8", newline="\n") as file:
        file.write(text)
