"""`loadstep draw`: three forms, to the terminal or to a file, with a job or a trial laid over."""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from engine.flow.library import find
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.flow.test_words import write
from tests.tui.commands.run import loadstep, loadstep_cold
from tests.tui.conftest import SMALL

ROOT = Path(__file__).parents[3]


def make_job(home: Path) -> int:
    """A job of the small flow, its first step answered."""

    async def begun() -> int:
        with Store.open(home) as store:
            session = await Session.start(store, find(SMALL))
            for text in ("1", "1", "25"):
                await session.answer(text, "degC")
            return session.job

    return asyncio.run(begun())


def test_text_is_what_one_gets_without_options(tmp_path: Path) -> None:
    done = loadstep_cold(tmp_path, "draw", SMALL)
    assert done.returncode == 0
    assert done.stderr == ""
    lines = done.stdout.splitlines()
    assert lines[0] == "Does the small system answer to load?"
    assert "1  Look first" in lines
    assert any("↑ LOAD RAISED: Load raised, settle 3 min" in line for line in lines)
    assert any("▲ DANGER 1, WARNING 1" in line for line in lines)
    assert max(map(len, lines)) <= 80


def test_the_main_flow_is_drawn_where_none_is_named(tmp_path: Path) -> None:
    assert "stroke_by_load, revision" in loadstep(tmp_path, "draw").stdout


def test_as_wide_as_the_terminal_within_reason(tmp_path: Path) -> None:
    for columns, most in (("10", 40), ("60", 60), ("500", 120)):
        lines = loadstep(tmp_path, "draw", COLUMNS=columns).stdout.splitlines()
        assert most - 25 < max(map(len, lines)) <= most


def test_mermaid_and_svg_on_standard_output(tmp_path: Path) -> None:
    mermaid = loadstep_cold(tmp_path, "draw", SMALL, "--format", "mermaid")
    assert mermaid.stdout.startswith("flowchart TD\n")
    ET.fromstring(loadstep_cold(tmp_path, "draw", SMALL, "--format", "svg").stdout)


@pytest.mark.parametrize(
    ("name", "begin"), [("f.txt", "Does the"), ("f.MMD", "flowchart TD"), ("f.svg", "<svg")]
)
def test_the_name_of_the_file_says_the_form(tmp_path: Path, name: str, begin: str) -> None:
    done = loadstep(tmp_path, "draw", SMALL, "--out", str(tmp_path / name))
    assert (done.returncode, done.stdout) == (0, "")
    assert str(tmp_path / name) in done.stderr
    assert (tmp_path / name).read_text(encoding="utf-8").startswith(begin)


def test_a_format_goes_before_the_name(tmp_path: Path) -> None:
    assert loadstep(tmp_path, "draw", SMALL, "--format", "svg", "--out", str(tmp_path / "f")).returncode == 0
    ET.parse(tmp_path / "f")


def test_a_jobs_path(tmp_path: Path) -> None:
    job = str(make_job(tmp_path))
    done = loadstep(tmp_path, "draw", "--job", job)
    assert done.returncode == 0
    assert f"The path of job {job}" in done.stdout
    assert "✓ 1  Look first" in done.stdout
    assert "▸ 2  Take the baseline" in done.stdout
    assert loadstep(tmp_path, "draw", SMALL, "--job", job).stdout == done.stdout


def test_a_trials_traffic(tmp_path: Path) -> None:
    tried = loadstep(tmp_path, "trial", "--vehicles", "4", "--fleet", "fleet", "--jobs", "1", "--json")
    (tmp_path / "trial.json").write_text(tried.stdout, encoding="utf-8")
    done = loadstep(tmp_path, "draw", "--trial", str(tmp_path / "trial.json"))
    assert (done.returncode, done.stderr) == (0, "")
    assert "Traffic of 4 simulated vehicles (fleet)" in " ".join(done.stdout.split())
    assert "4 ┊ 1  The complaint" in done.stdout
    changed = json.dumps({**json.loads(tried.stdout), "flow_hash": "0"})
    (tmp_path / "trial.json").write_text(changed, encoding="utf-8")
    assert (
        "was changed since that trial"
        in loadstep(tmp_path, "draw", "--trial", str(tmp_path / "trial.json")).stderr
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["nothing"], "There is no flow 'nothing'"),
        (["--format", "pdf"], "there is no 'pdf'; use text, mermaid, svg."),
        (["--out", "drawing.pdf"], "let the name end in .txt, .mmd or .svg"),
        (["--out", "/nowhere/at/all.svg"], "the folder is not there"),
        (["--out", " "], "for instance flow.svg"),
        (["--job", "x"], "there is no job 'x'"),
        (["--job", "12"], "There is no job 12"),
        (["--job", "1", "--trial", "x"], "leave out --job or --trial"),
        (["--trial", "not-there.json"], "'not-there.json' cannot be read (No such file or directory)"),
        (["--trial", "/"], "cannot be read (Is a directory)"),
        (["--trial", "/dev/null"], "it is not JSON"),
    ],
)
def test_refusals_are_one_sentence_and_code_2(tmp_path: Path, words: list[str], said: str) -> None:
    done = loadstep(tmp_path, "draw", *words)
    assert done.returncode == 2
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_a_job_of_another_flow_is_refused(tmp_path: Path) -> None:
    job = str(make_job(tmp_path))
    done = loadstep(tmp_path, "draw", "stroke_by_load", "--job", job)
    assert done.returncode == 2
    assert f"job {job} walks the flow small, not 'stroke_by_load'" in done.stderr


def test_a_flow_with_problems_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bad.yaml").write_text("format: 1\n", encoding="utf-8")
    done = loadstep(tmp_path, "draw", str(tmp_path / "bad.yaml"))
    assert done.returncode == 2
    assert "`loadstep lint` lists them" in done.stderr


def test_drawing_loads_no_screen_and_no_property_library(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from tui.commands.main import main\n"
        "assert main(['draw', '--format', 'svg', '--out', sys.argv[1]]) == 0\n"
        "loaded = {name.split('.')[0] for name in sys.modules}\n"
        "print(sorted(loaded & {'textual', 'rich', 'CoolProp', 'numpy'}))\n"
    )
    words = [sys.executable, "-c", code, str(tmp_path / "main.svg")]
    done = subprocess.run(words, capture_output=True, encoding="utf-8", check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"


def test_in_another_language(tmp_path: Path) -> None:
    path = str(write(tmp_path))
    assert "Titulo-xx" in loadstep(tmp_path, "draw", path, "--language", "xx").stdout
    assert "Titulo-xx" not in loadstep(tmp_path, "draw", path).stdout
