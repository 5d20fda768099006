"""Where the store lives: the data folder, what else lies in it, and whether it is on a network drive."""

from __future__ import annotations

import os
import sys
from pathlib import Path

HOME_VARIABLE = "LOADSTEP_HOME"
FILE_NAME = "store.db"
README_NAME = "README.txt"

README = """This folder belongs to loadstep, a program for diagnosing vehicle air conditioning.

store.db            your jobs: every answer as it was given, and the flow files it was given to
store.db-wal, -shm  parts of store.db while loadstep runs or after it was cut off: never move them alone
store-damaged-*     a store that could not be read, set aside and kept
store-format-*      a copy made before the store was brought to a newer format; delete it when all is well
flows               your own flows, called own:NAME
flow-folders.txt    folders of shared flows, one a line (`loadstep flows --add FOLDER` writes it)
opening.lock        empty; keeps two windows from making or mending the store at once

One folder is for one person. To keep jobs elsewhere, set LOADSTEP_HOME to another folder.
To make a copy, close loadstep first, then copy the whole folder.
"""

_NETWORK_TYPES = frozenset(
    {
        "nfs",
        "nfs4",
        "cifs",
        "smb",
        "smb2",
        "smb3",
        "smbfs",
        "afs",
        "ncpfs",
        "9p",
        "ceph",
        "glusterfs",
        "lustre",
    }
    | {"fuse.sshfs", "fuse.glusterfs", "fuse.rclone", "fuse.davfs", "davfs", "fuse.ceph", "fuse.s3fs"}
)
_DRIVE_REMOTE = 4  # GetDriveTypeW, Windows API


def default_folder() -> Path:
    """LOADSTEP_HOME if it is set, else the user's data folder of this system."""
    chosen = os.environ.get(HOME_VARIABLE, "").strip()
    if chosen:
        return Path(chosen).expanduser().absolute()
    import platformdirs  # only here: a start with LOADSTEP_HOME does not pay for it

    return platformdirs.user_data_path("loadstep", appauthor=False)


def network_kind(folder: Path, mounts: Path = Path("/proc/self/mounts")) -> str | None:
    """The kind of network drive `folder` is on ("nfs", "cifs", "share"), or None.

    Linux reads its table of mounts, Windows asks the system; elsewhere None, where SQLite's own refusal of a
    write-ahead log is the only guard.
    """
    if sys.platform == "win32":
        return _windows_network_kind(folder)
    try:
        table = mounts.read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        return None
    kind = _kind_of_mount(os.path.realpath(folder), table)
    return kind if kind in _NETWORK_TYPES else None


def write_readme(folder: Path) -> None:
    """Say whose folder this is, once. A folder that takes no file is found out elsewhere."""
    readme = folder / README_NAME
    try:
        if not readme.exists():
            readme.write_text(README, encoding="utf-8")
    except OSError:
        return


def _kind_of_mount(path: str, table: str) -> str:
    """File system type of the mount that holds `path`; the last of the longest matches is on top."""
    best, kind = "", ""
    for line in table.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:
            continue
        point = _unescaped(fields[1])
        inside = path == point or path.startswith(point.rstrip("/") + "/")
        if inside and len(point) >= len(best):
            best, kind = point, fields[2]
    return kind


def _unescaped(field: str) -> str:
    # The kernel writes these four as octal (proc(5), "mounts").
    for code, char in (("\\040", " "), ("\\011", "\t"), ("\\012", "\n"), ("\\134", "\\")):
        field = field.replace(code, char)
    return field


def _windows_network_kind(folder: Path) -> str | None:
    anchor = folder.absolute().anchor
    if anchor.startswith("\\\\") and not anchor.startswith("\\\\?\\"):
        return "share"
    if sys.platform == "win32":
        import ctypes

        if ctypes.windll.kernel32.GetDriveTypeW(anchor) == _DRIVE_REMOTE:
            return "share"
    return None
