"""Finding flows by name and path, and the index of shipped ones."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from engine.flow import index, make_index
from engine.flow.library import NoSuchFlow, find, own, shipped
from engine.flow.load import load_flow
from engine.flow.model import Flow
from tests.engine.flow.small import FLOW


@pytest.fixture
def data_folder(tmp_path: Path) -> Path:
    (tmp_path / "flows").mkdir()
    (tmp_path / "flows" / "small.yaml").write_text(FLOW)
    return tmp_path


def test_a_shipped_flow_by_its_name() -> None:
    assert find("stroke_by_load").path.name == "stroke_by_load.yaml"
    assert find("stroke_by_load") in shipped()


def test_an_own_flow_by_its_name(data_folder: Path) -> None:
    source = find("own:small", data_folder)
    assert (source.name, source.path) == ("own:small", data_folder / "flows" / "small.yaml")
    assert own(data_folder) == [source]
    assert load_flow(source).title == "Does it answer the load?"


def test_a_file_by_its_path(data_folder: Path) -> None:
    path = str(data_folder / "flows" / "small.yaml")
    assert find(path).path == Path(path)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        (
            "stroke_by_lode",
            "There is no flow 'stroke_by_lode' in the program; did you mean 'stroke_by_load'?",
        ),
        ("own:smal", "did you mean 'own:small'?"),
        ("nowhere/x.yaml", "There is no flow file 'nowhere/x.yaml'; check the path."),
        ("x" * 5000 + ".yaml", "There is no flow file 'xxxx"),
        ("a\0b.yaml", "There is no flow file 'a?b.yaml'"),
        ("own:../../etc/passwd", "There is no flow 'own:../../etc/passwd'"),
    ],
)
def test_what_is_not_there(data_folder: Path, name: str, sentence: str) -> None:
    with pytest.raises(NoSuchFlow) as caught:
        find(name, data_folder)
    assert sentence in str(caught.value)


def test_own_flows_without_a_folder(tmp_path: Path) -> None:
    assert own(tmp_path) == []
    with pytest.raises(NoSuchFlow, match="There is no flow 'own:small'"):
        find("own:small")


@pytest.fixture(scope="module")
def flows() -> dict[str, Flow]:
    """Every shipped flow by its name, loaded once: that takes seconds, and nothing here changes one."""
    return {source.name: load_flow(source) for source in shipped()}


@pytest.fixture
def _loaded(flows: dict[str, Flow], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(make_index, "load_flow", lambda source: flows[source.name])


@pytest.mark.usefixtures("_loaded")
def test_the_index_is_current() -> None:
    assert make_index.main(["--check"]) == 0, "run: python -m engine.flow.make_index"


def test_titles_are_those_of_the_flows(flows: dict[str, Flow]) -> None:
    titles = index.titles()
    assert {title.name for title in titles} == set(flows)
    assert {name: flow.name for name, flow in flows.items()} == {name: name for name in flows}
    assert [title.name for title in titles[:2]] == ["stroke_by_load", "not_cold"]
    for title in titles:
        flow = flows[title.name]
        assert (title.title, title.revision, title.about) == (flow.title, flow.revision, flow.about)


@pytest.mark.usefixtures("_loaded")
def test_making_the_index(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    made = tmp_path / "index.json"
    monkeypatch.setattr(make_index, "INDEX", made)
    assert make_index.main(["--check"]) == 1
    assert "is out of date; run: python -m engine.flow.make_index" in capsys.readouterr().err
    assert make_index.main([]) == 0
    assert [entry["name"] for entry in json.loads(made.read_text())] == [
        source.name for source in make_index.in_order()
    ]
    assert make_index.main(["--check"]) == 0
