"""`loadstep replay` as a person or a script uses it."""

import json
from pathlib import Path

import jsonschema

from engine.job.replay.schema import json_schema
from tests.engine.job.replay.files import GOOD, HEAD, written
from tests.tui.commands.run import loadstep, loadstep_cold


def _lines(text: str) -> list[dict[str, object]]:
    told = [json.loads(line) for line in text.splitlines()]
    for each in told:
        jsonschema.validate(each, json_schema())
    return told


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema())


def test_one_object_a_file_and_the_highest_code(tmp_path: Path) -> None:
    good = written(tmp_path, HEAD + GOOD)
    bad = tmp_path / "bad.yaml"
    bad.write_text(HEAD + "  lowside: 40 psi\n  drive: diesel\n")
    done = loadstep(tmp_path, "replay", "--json", str(tmp_path / "none.yaml"), str(bad), good)
    assert (done.returncode, done.stderr) == (2, "")
    missing, wrong, walked = _lines(done.stdout)
    assert missing == {
        "format": 1,
        "file": str(tmp_path / "none.yaml"),
        "error": {
            "kind": "file",
            "where": str(tmp_path / "none.yaml"),
            "message": "there is no such file",
            "hint": "check the path",
        },
    }
    assert list(wrong) == ["format", "file", "error"]
    error = wrong["error"]
    assert isinstance(error, dict)
    assert error["kind"] == "name"
    assert error["where"] == f"{bad}:4:3"
    assert error["hint"].startswith("did you mean 'low_side'?")
    assert "1 more" in error["hint"]
    assert walked["finding"] == "sound"


def test_all_good_is_code_0(tmp_path: Path) -> None:
    good = written(tmp_path, HEAD + GOOD)
    done = loadstep_cold(tmp_path, "replay", good, good, "--json")
    assert done.returncode == 0
    first, second = _lines(done.stdout)
    assert first == second


def test_in_words(tmp_path: Path) -> None:
    facts = GOOD.replace("low_side: 40,", "low_side: 170,") + "  frost: line\n"
    done = loadstep(tmp_path, "replay", written(tmp_path, HEAD + facts), COLUMNS="100")
    assert (done.returncode, done.stderr) == (0, "")
    text = done.stdout
    assert "It is sound (sound), 90 %" in text
    assert "the high side rose with the load (9 to 1)" in text
    assert "It is weak, 10 %" in text
    assert "It is dead: the high side answered" in text
    assert "arrive > base > raise > weigh > caps" in text
    assert "baseline.low_side: 170 psi is unusual" in text
    assert "Given, but never asked:\n    frost" in text


def test_problems_in_words_all_of_them(tmp_path: Path) -> None:
    bad = written(tmp_path, HEAD + "  lowside: 40 psi\n  drive: diesel\n")
    done = loadstep_cold(tmp_path, "replay", bad)
    assert (done.returncode, done.stdout) == (2, "")
    assert [line.split(" ")[0] for line in done.stderr.splitlines()] == [f"{bad}:4:3:", f"{bad}:5:10:"]


def test_a_file_name_cannot_steer_the_terminal(tmp_path: Path) -> None:
    name = str(tmp_path / "\x1b]0;x\x07.yaml")
    for words in (["replay", name], ["replay", name, "--json"], ["lint", name], ["lint", name, "--json"]):
        done = loadstep(tmp_path, *words)
        assert done.returncode == 2
        assert "\x1b" not in done.stdout + done.stderr
        assert "\x07" not in done.stdout + done.stderr


def test_a_file_name_that_is_no_utf8(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "replay", b"\xff\xfe.yaml", "--json")
    assert done.returncode == 2
    (told,) = _lines(done.stdout)
    assert list(told) == ["format", "file", "error"]


def test_our_own_mistake_with_one_file_leaves_the_others_their_turn(tmp_path: Path) -> None:
    import subprocess
    import sys

    from tests.tui.commands.run import environment

    good = written(tmp_path, HEAD + GOOD)
    program = (
        "import sys; from tui.commands import replay; from tui.commands.main import main\n"
        "walked = replay.replay_file\n"
        "def broken(file):\n"
        "    return walked(file) if file.endswith('job.yaml') else 1 / 0\n"
        "replay.replay_file = broken\n"
        "sys.exit(main(['replay', '--json', 'other', sys.argv[1]]))"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", program, good],
        env=environment(tmp_path),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 70
    broken, walked = _lines(done.stdout)
    assert isinstance(broken["error"], dict)
    assert broken["error"]["kind"] == "bug"
    assert walked["finding"] == "sound"
    assert "crash-" in done.stderr


def test_demo_walks_an_example_that_comes_along(tmp_path: Path) -> None:
    done = loadstep(tmp_path, "replay", "--demo", "--json")
    assert (done.returncode, done.stderr) == (0, "")
    (told,) = _lines(done.stdout)
    assert (told["flow"], told["finding"]) == ("stroke_by_load", "weak-compressor")
