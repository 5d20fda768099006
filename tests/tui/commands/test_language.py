"""The language on the command line and on the screen, with words in a made-up one."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.job.store import Store
from tests.engine.flow.test_words import write
from tests.tui.commands.run import loadstep, loadstep_cold
from tests.tui.reading import sentences, shown
from tui import settings
from tui.app import LoadstepApp
from tui.commands.language import chosen_language
from tui.commands.refusal import Refusal


def test_lint_lists_what_is_not_said_and_stale_words(tmp_path: Path) -> None:
    path = write(tmp_path)
    done = loadstep(tmp_path, "lint", str(path))
    assert done.returncode == 0  # warnings
    assert "not said in 'xx': signs answers says [not-said]" in done.stdout
    assert "caution 'burst'" in done.stdout
    done = loadstep_cold(tmp_path, "lint", "--language", "yy", str(path))
    assert "small.yaml: nothing is said in 'yy' (" in done.stdout
    assert "'xx'" not in done.stdout
    write(tmp_path, "language: xx\nstepps: {base: {title: T}}\n")
    done = loadstep(tmp_path, "lint", str(path))
    assert done.returncode == 1
    assert "small.xx.yaml:2:24: there is nothing called 'stepps base title' to say otherwise" in done.stdout


def test_the_rules_about_words_are_listed(tmp_path: Path) -> None:
    told = loadstep(tmp_path, "lint", "--rules").stdout
    for rule in ("not-said", "not-reviewed", "changed-since-review"):
        assert f"{rule}\n    why: " in told


@pytest.mark.parametrize(("given", "chosen"), [(None, None), ("own", ""), ("xx", "xx"), ("xx-YY", "xx-YY")])
def test_what_is_chosen(given: str | None, chosen: str | None) -> None:
    assert chosen_language(given) == chosen


def test_what_is_no_language(tmp_path: Path) -> None:
    with pytest.raises(Refusal):
        chosen_language("../xx")
    done = loadstep(tmp_path, "sheet", "1", "--language", "Klingon please")
    assert done.returncode == 2
    assert "is no language; give a tag such as xx" in done.stderr


async def test_a_job_on_the_screen_in_the_language_chosen(tmp_path: Path) -> None:
    (tmp_path / "flows").mkdir()
    path = write(tmp_path / "flows")
    with Store.open(tmp_path / "home") as store:
        app = LoadstepApp(store, flow=str(path), language="xx")
        async with app.run_test(size=(100, 40)):
            await app.workers.wait_for_complete()
            assert "Titulo-xx" in shown(app)
            assert app.session is not None
            job = app.session.job
        assert settings.load(store.file.parent).language == "xx"
        again = LoadstepApp(store, job=job)  # the words were kept with the job, and the choice too
        path.with_name("small.xx.yaml").unlink()
        async with again.run_test(size=(100, 40)):
            await again.workers.wait_for_complete()
            assert "Titulo-xx" in shown(again)
        own = LoadstepApp(store, job=job, language="")
        async with own.run_test(size=(100, 40)):
            await own.workers.wait_for_complete()
            assert "Does it answer the load?" in shown(own)


async def test_a_flow_without_words_says_so(tmp_path: Path) -> None:
    (tmp_path / "flows").mkdir()
    path = write(tmp_path / "flows")
    with Store.open(tmp_path / "home") as store:
        app = LoadstepApp(store, flow=str(path), language="yy")
        async with app.run_test(size=(100, 40)):
            await app.workers.wait_for_complete()
            assert "There are no words in 'yy' for this flow; it is shown as it was written." in sentences(
                app
            )
