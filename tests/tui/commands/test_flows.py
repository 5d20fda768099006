"""`loadstep flows`: which flows there are, and where each comes from."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.flow.places import FLOWS_VARIABLE
from tests.engine.flow.small import FLOW
from tests.tui.commands.run import loadstep, loadstep_cold


@pytest.fixture(autouse=True)
def _no_folders_of_this_computer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(FLOWS_VARIABLE, raising=False)


def test_where_each_flow_comes_from(tmp_path: Path) -> None:
    shared = tmp_path / "autumn"
    shared.mkdir()
    (shared / "small.yaml").write_text(FLOW)
    (shared / "stroke_by_load.yaml").write_text(FLOW.replace("flow: small", "flow: stroke_by_load"))
    done = loadstep_cold(tmp_path, "flows", "--add", str(shared))
    assert done.returncode == 0
    text = done.stdout
    revision = load_flow(find("stroke_by_load")).revision
    assert f"stroke_by_load  revision {revision}  Is the compressor pumping what it is told to?" in text
    assert "Shipped with loadstep." in text
    assert "shared:small  revision 3  Does it answer the load?" in text
    told = " ".join(text[text.index("shared:stroke_by_load") :].split())
    assert (
        "A shipped flow has this name, too. They are kept apart: this one is called shared:stroke_by_load."
        in told
    )
    assert loadstep(tmp_path, "flows").stdout == text  # the folder was kept
    assert loadstep(tmp_path, "lint", "shared:small").returncode == 0
    assert "shared:" not in loadstep(tmp_path, "flows", "--drop", str(shared)).stdout


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "flows", "--add", str(tmp_path / "nowhere"))
    assert done.returncode == 2
    assert f"there is no folder {tmp_path / 'nowhere'}" in done.stderr
    done = loadstep(tmp_path, "flows", "--drop", str(tmp_path))
    assert done.returncode == 2
    assert "not among the folders named (none)" in done.stderr


def test_a_shared_folder_that_went_away_is_told_and_hinders_nothing(tmp_path: Path) -> None:
    shared = tmp_path / "autumn"
    shared.mkdir()
    loadstep(tmp_path, "flows", "--add", str(shared))
    shared.rmdir()
    done = loadstep(tmp_path, "flows")
    assert done.returncode == 0
    assert f"The shared folder {shared} is not there." in done.stderr
    assert "stroke_by_load" in done.stdout
