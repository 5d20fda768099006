"""Which folder, and what kind of drive it is on."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest

from engine.job.store import Store, default_folder, opening
from engine.job.store.place import _windows_network_kind, network_kind
from tests.engine.job.store.helpers import ROOT, event, new_job

# Lines as the kernel writes them (proc(5)): device, mount point, type, options, 0 0.
MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
server:/home /srv/homes nfs4 rw,vers=4.2 0 0
//server/jobs /mnt/job\\040files cifs rw 0 0
tech@bay:/ /mnt/bay fuse.sshfs rw 0 0
share /mnt/host 9p rw,trans=virtio 0 0
/dev/sdb1 /srv/homes/local ext4 rw 0 0
tmpfs /run tmpfs rw 0 0
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/ann/loadstep", None),
        ("/srv/homes/ann", "nfs4"),
        ("/srv/homes", "nfs4"),
        ("/srv/homesick", None),
        ("/srv/homes/local/ann", None),
        ("/mnt/job files/2026", "cifs"),
        ("/mnt/bay/x", "fuse.sshfs"),
        ("/mnt/host/x", "9p"),
        ("/run/x", None),
    ],
)
def test_network_drives_are_known_by_their_mount(tmp_path: Path, folder: str, kind: str | None) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text(MOUNTS)
    assert network_kind(Path(folder), mounts) == kind


def test_without_a_table_of_mounts_nothing_is_claimed(tmp_path: Path) -> None:
    assert network_kind(tmp_path, tmp_path / "missing") is None


@pytest.mark.skipif(sys.platform == "win32", reason="a path of Windows, read on another system")
def test_a_share_of_windows_is_known_by_its_name() -> None:
    class Share:
        anchor = "\\\\server\\jobs\\"

        def absolute(self) -> Share:
            return self

    assert _windows_network_kind(Share()) == "share"  # type: ignore[arg-type]


def test_a_store_on_a_network_drive_keeps_no_shared_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "network_kind", lambda folder: "nfs4")
    with Store.open(tmp_path) as store:
        assert store.mode == "normal"
        assert f"{tmp_path} is on a network drive (nfs4)" in store.notices[0]
        assert "one computer at a time" in store.notices[0]
        job = store.create_job(new_job())
        assert store.append(job, 1, event()).result() == 1
        # 3 is EXTRA in SQLite's own numbering (PRAGMA synchronous, sqlite.org/pragma.html)
        assert store._connection.execute("PRAGMA synchronous").fetchone() == (3,)
        assert sqlite3.connect(store.file).execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert not (tmp_path / "store.db-wal").exists()


def test_the_persons_own_choice_of_folder_comes_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOADSTEP_HOME", str(tmp_path / "mine"))
    assert default_folder() == tmp_path / "mine"
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LOADSTEP_HOME", "here")
    assert default_folder() == tmp_path / "here"


def test_else_it_is_the_data_folder_of_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    for unset in ("", "  "):
        monkeypatch.setenv("LOADSTEP_HOME", unset)
        assert default_folder() == platformdirs.user_data_path("loadstep", appauthor=False)


def test_opening_a_store_loads_nothing_heavy(tmp_path: Path) -> None:
    script = (
        "import sys; from engine.job.store import Store\n"
        "with Store.open() as store: store.jobs()\n"
        "heavy = 'pydantic yaml platformdirs textual CoolProp jinja2 engine.flow engine.physics'.split()\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", script],
        cwd=ROOT,
        env={"LOADSTEP_HOME": str(tmp_path), "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )
    assert ran.stdout == "[]\n"
