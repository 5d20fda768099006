"""Writing a file where the person wants it: nothing is overwritten unasked, no half file is left."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path

SUFFIXES = (".html", ".md")

_WHY = {
    errno.ENOSPC: "the disk is full. Free some space on it, or write it to another disk.",
    errno.EDQUOT: "your share of the disk is used up. Free some space, or write it elsewhere.",
    errno.EROFS: "that disk can only be read. Choose another folder.",
    errno.EACCES: "you may not write there. Choose another folder.",
    errno.EPERM: "you may not write there. Choose another folder.",
    errno.ENAMETOOLONG: "the name is too long. Shorten it.",
    errno.ENOENT: "the folder is not there. Make it, or choose another.",
    errno.ENOTDIR: "part of that path is a file, not a folder. Choose another folder.",
}


class SheetFileError(Exception):
    """The file could not be written; the message is a sentence for the person."""


def default_path(folder: Path, job: int) -> Path:
    """Where the sheet of a job goes unless the person says otherwise; `folder` is the data folder."""
    return folder / "sheets" / f"job-{job}.html"


def chosen_path(text: str) -> Path:
    """The path a person typed. Raises SheetFileError if it cannot name a sheet."""
    path = named_path(text, "sheet.html")
    if path.suffix.lower() not in SUFFIXES:
        raise SheetFileError(
            "The name must end in .html (to print or to open in a browser) or in .md (Markdown)."
        )
    return path


def named_path(text: str, example: str) -> Path:
    """The path a person typed. Raises SheetFileError, with `example` as a good name, if it names no file."""
    if not text.strip():
        raise SheetFileError(f"Type the name of a file, for instance {example}.")
    if not text.isprintable():
        raise SheetFileError(
            "That cannot be the name of a file: it holds a control character. Choose another."
        )
    try:
        path = Path(text.strip()).expanduser()
        is_folder = path.is_dir()
    except (RuntimeError, OSError) as error:  # no such user, or a name the system cannot even ask for
        raise SheetFileError(f"That cannot be the name of a file ({error}). Choose another.") from error
    if is_folder:
        raise SheetFileError(f"{path} is a folder. Add a file name, for instance {example}.")
    return path.absolute()


def write(path: Path, text: str, *, replace: bool = False) -> None:
    """Write `text` to `path` in UTF-8. Raises SheetFileError, and FileExistsError unless `replace` is set."""
    if path.exists() and not replace:
        raise FileExistsError(path)
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        if path.parent.name == "sheets":  # the default folder is ours to make
            path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(text, encoding="utf-8", errors="replace")
        part.replace(path)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        why = _WHY.get(error.errno or 0, f"{error.strerror or error}. Choose another place.")
        raise SheetFileError(f"{path} could not be written: {why}") from error
