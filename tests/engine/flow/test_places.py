"""Where flows live: the person's own, shared folders, and that none of them stands for another."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from engine.flow.glance import glance
from engine.flow.library import NoSuchFlow, find, in_places
from engine.flow.load import load_flow
from engine.flow.places import (
    FLOWS_VARIABLE,
    FOLDERS_FILE,
    SHARED,
    Place,
    flows_in,
    keep_folders,
    kept_folders,
    listed,
    places,
)
from tests.engine.flow.small import FLOW

ONE = "small.yaml"


@pytest.fixture(autouse=True)
def _no_folders_of_this_computer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(FLOWS_VARIABLE, raising=False)


def folder_with(folder: Path, *names: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        (folder / f"{name}.yaml").write_text(FLOW.replace("flow: small", f"flow: {name}"))
    return folder


def test_a_shared_folder_named_by_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    autumn = folder_with(tmp_path / "autumn", "small")
    spring = folder_with(tmp_path / "spring", "other")
    monkeypatch.setenv(FLOWS_VARIABLE, f"{autumn}{os.pathsep}{spring}{os.pathsep}")
    assert [place.folder for place in places(tmp_path)] == [tmp_path / "flows", autumn, spring]
    assert find("shared:small", tmp_path).path == autumn / ONE
    assert find("shared:other").path == spring / "other.yaml"
    assert load_flow(find("shared:small")).title == "Does it answer the load?"


def test_shared_folders_kept_in_a_list(tmp_path: Path) -> None:
    autumn = folder_with(tmp_path / "autumn", "small")
    (tmp_path / FOLDERS_FILE).write_text(f"# of the class\n\n{autumn}\nspring\n{autumn}\n")
    assert kept_folders(tmp_path) == [autumn, tmp_path / "spring", autumn]
    assert [place.folder for place in places(tmp_path)][1:] == [autumn, tmp_path / "spring"]
    keep_folders(tmp_path, [autumn])
    assert kept_folders(tmp_path) == [autumn]


def test_a_list_that_cannot_be_read_names_nothing(tmp_path: Path) -> None:
    (tmp_path / FOLDERS_FILE).write_bytes(b"\xff\xfe\x00")
    assert kept_folders(tmp_path) == []
    assert [place.words for place in places(tmp_path)] == ["your own"]


def test_a_folder_that_is_only_read_is_fine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = folder_with(tmp_path / "autumn", "small")
    (folder / ONE).chmod(0o444)
    folder.chmod(0o555)
    monkeypatch.setenv(FLOWS_VARIABLE, str(folder))
    try:
        assert load_flow(find("shared:small")).name == "small"
    finally:
        folder.chmod(0o755)


def test_flows_of_one_name_in_several_places_are_kept_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = folder_with(tmp_path / "flows", "stroke_by_load", "small")
    autumn = folder_with(tmp_path / "autumn", "small")
    monkeypatch.setenv(FLOWS_VARIABLE, str(autumn))
    assert find("stroke_by_load", tmp_path).path.parent != own
    assert find("own:stroke_by_load", tmp_path).path.parent == own
    assert find("own:small", tmp_path).path.parent == own
    assert find("shared:small", tmp_path).path.parent == autumn
    assert [source.name for source in in_places(tmp_path)] == [
        "own:small",
        "own:stroke_by_load",
        "shared:small",
    ]


def test_of_two_shared_flows_by_one_name_neither_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folders = [folder_with(tmp_path / name, "small") for name in ("autumn", "spring")]
    monkeypatch.setenv(FLOWS_VARIABLE, os.pathsep.join(map(str, folders)))
    with pytest.raises(NoSuchFlow) as caught:
        find("shared:small")
    assert str(caught.value) == (
        f"There is more than one flow 'shared:small': {folders[0] / ONE} and {folders[1] / ONE}; "
        "name the file you mean."
    )


@pytest.mark.parametrize(
    "name", ["shared:../small", "shared:/etc/passwd", "own:../flows/small", "shared:C:small"]
)
def test_a_name_is_never_a_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    folder_with(tmp_path / "flows", "small")
    monkeypatch.setenv(FLOWS_VARIABLE, str(folder_with(tmp_path / "autumn", "other")))
    with pytest.raises(NoSuchFlow):
        find(name, tmp_path)


@pytest.mark.skipif(os.name == "nt", reason="making links needs rights there")
def test_files_that_a_link_leads_away_to_are_not_listed(tmp_path: Path) -> None:
    folder = folder_with(tmp_path / "autumn", "small")
    outside = folder_with(tmp_path / "secret", "hidden")
    (folder / "hidden.yaml").symlink_to(outside / "hidden.yaml")
    (folder / "round.yaml").symlink_to(folder / "round.yaml")
    (folder / "gone.yaml").symlink_to(folder / "nowhere.yaml")
    assert [found.name for found in flows_in(Place(SHARED, folder))] == ["shared:small"]
    linked = tmp_path / "linked"
    linked.symlink_to(folder)  # the person named the folder itself, by whatever name
    assert [found.name for found in flows_in(Place(SHARED, linked))] == ["shared:small"]


def test_what_is_no_flow_is_not_listed(tmp_path: Path) -> None:
    folder = folder_with(tmp_path / "autumn", "small")
    (folder / "readings.yaml").write_text("readings:\n  flow: {label: X, quantity: pressure}\n")
    (folder / "walk.yaml").write_bytes(bytes(range(256)))
    (folder / "folder.yaml").mkdir()
    assert [one.found.name for one in listed(Place(SHARED, folder))] == ["shared:small"]
    assert list(listed(Place(SHARED, tmp_path / "nowhere"))) == []


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("title: Plain words  # a remark\nflow: x\n", "Plain words"),
        ("flow: x\ntitle: 'It''s'\n", "It's"),
        ('flow: x\ntitle: "Quoted: yes"\nabout: a\n', "Quoted: yes"),
        ("flow: x\ntitle: >-\n  Over two\n  lines\nabout: a\n", "Over two lines"),
        ("\ufeffflow: x\r\ntitle: Windows\r\n", "Windows"),
        ("flow: x\nsteps:\n  title: Not this\n", "name"),
        ("flow: x\ntitle: First\ntitle: Second\n", "First"),
    ],
)
def test_a_glance_at_the_head(tmp_path: Path, text: str, title: str) -> None:
    file = tmp_path / "name.yaml"
    file.write_text(text, encoding="utf-8", newline="")
    head = glance(file)
    assert head is not None
    assert head.title == title
