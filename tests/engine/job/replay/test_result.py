"""What a replay concludes and prints, reckoned by hand from the little flow."""

import json
from pathlib import Path

import jsonschema
import pytest

from engine.job.replay.result import result
from engine.job.replay.schema import json_schema
from tests.engine.job.replay.files import GOOD, replayed

KEYS = [
    *(
        "format",
        "file",
        "flow",
        "revision",
        "flow_hash",
        "version",
        "ended",
        "finding",
        "proved_by",
        "ranked",
    ),
    *("ruled_out", "also", "next_measurement", "path", "cautions", "derived", "unanswered", "unused"),
    "implausible",
]
PSI, BAR = 6894.757, 1e5  # Pa; NIST SP 811 (2008) appendix B.8


def outcome(folder: Path, facts: str) -> dict[str, object]:
    done = replayed(folder, facts)
    told = json.loads(json.dumps(result(done.file, done.walk, done.given), allow_nan=False))
    jsonschema.validate(told, json_schema())
    assert isinstance(told, dict)
    assert list(told) == KEYS
    return told


def test_a_whole_job(tmp_path: Path) -> None:
    told = outcome(tmp_path, GOOD)
    assert (told["format"], told["flow"], told["revision"]) == (1, "tiny", 3)
    assert told["file"] == str(tmp_path / "job.yaml")
    assert (told["ended"], told["finding"], told["proved_by"], told["also"]) == (
        "concluded",
        "sound",
        None,
        None,
    )
    # Even priors; the one sign that is true puts 9 on sound and 1 on weak; dead is ruled out: 9 / (9 + 1).
    assert told["ranked"] == [
        {
            "finding": "sound",
            "probability": pytest.approx(0.9),
            "for": [
                {"sign": "followed", "says": "the high side rose with the load", "odds": pytest.approx(9)}
            ],
            "against": [],
        },
        {"finding": "weak", "probability": pytest.approx(0.1), "for": [], "against": []},
    ]
    assert told["ruled_out"] == [{"finding": "dead", "step": "raise", "because": "the high side answered"}]
    assert told["path"] == ["arrive", "base", "raise", "weigh", "caps"]
    assert told["cautions"] == [{"step": "base", "ids": ["burst"]}, {"step": "raise", "ids": ["burst"]}]
    assert (told["unanswered"], told["unused"], told["implausible"]) == ([], [], [])


def test_derived_is_si_and_a_bare_number_is_in_the_flows_unit(tmp_path: Path) -> None:
    derived = outcome(tmp_path, GOOD)["derived"]
    assert isinstance(derived, dict)
    # low_side 40 is psi and high_side 10 is bar, as the flow declares; elevation 1000 is metres: 89 875 Pa
    # (ASHRAE Fundamentals 2017 ch. 1 table 1: 89 874 Pa).
    assert derived["baseline.sides_apart"] == {"value": pytest.approx(10 * BAR - 40 * PSI), "unit": "Pa"}
    assert derived["loaded.sides_apart"] == {"value": pytest.approx(10 * BAR), "unit": "Pa"}
    assert derived["atmospheric_pressure"] == {"value": pytest.approx(89874, abs=5), "unit": "Pa"}
    ratio = (10 * BAR + 89874) / (40 * PSI + 89874)
    assert derived["baseline.pressure_ratio"] == {"value": pytest.approx(ratio, rel=1e-4), "unit": "1"}
    assert derived["loaded.settled"] == {"value": "yes", "unit": None}
    # R-134a condenses at 11.6 bar absolute near 45 degC (racselector table: 1161.01 kPa at 45 degC).
    assert derived["baseline.condensing_temperature"]["value"] == pytest.approx(273.15 + 45 - 2.4, abs=1.0)
    assert "loaded.low_side" not in derived


def test_nothing_given_is_cannot_measure_throughout(tmp_path: Path) -> None:
    told = outcome(tmp_path, "  frost: unknown\n")
    assert (told["ended"], told["finding"]) == ("concluded", "inconclusive")
    assert told["unanswered"] == [
        *("drive", "contents", "elevation", "refrigerant", "baseline.low_side", "baseline.high_side"),
        *("loaded.low_side", "loaded.high_side"),
    ]
    assert told["unused"] == []
    missing = told["next_measurement"]
    assert isinstance(missing, dict)
    assert missing["reading"] in ("baseline.high_side", "loaded.high_side")
    assert set(missing["separates"]) <= {"sound", "weak", "dead"}


def test_proved_by_one_test_ranks_nothing(tmp_path: Path) -> None:
    told = outcome(tmp_path, "  drive: electric\n  baseline: {low_side: 40 psi}\n  frost: line\n")
    assert (told["finding"], told["proved_by"], told["ranked"]) == ("high-voltage", "hv-stop", [])
    assert told["path"] == ["arrive", "hv-stop", "caps"]
    assert told["unused"] == ["baseline.low_side", "frost"]
    assert told["cautions"] == []


def test_a_limit_reached_once_is_resumed_from(tmp_path: Path) -> None:
    # Reached while the loaded set is taken: cooled down, the step is taken anew, and reaches it again.
    told = outcome(tmp_path, GOOD.replace("high_side: 12.5", "high_side: 28"))
    assert told["ended"] == "interrupted"
    assert told["path"] == ["arrive", "base", "raise", "cool", "raise", "give-up", "caps"]


def test_read_too_early_is_noted(tmp_path: Path) -> None:
    facts = GOOD.replace("high_side: 12.5", "high_side: 10.2, read_after: 20 s")
    told = outcome(tmp_path, facts)
    assert told["path"] == ["arrive", "base", "raise", "early", "weigh", "caps"]
    derived = told["derived"]
    assert isinstance(derived, dict)
    assert derived["loaded.settled"] == {"value": "no", "unit": None}


def test_waited_longer_than_asked_is_settled(tmp_path: Path) -> None:
    told = outcome(tmp_path, GOOD.replace("high_side: 12.5", "high_side: 10.2, read_after: 4 min"))
    assert told["path"] == ["arrive", "base", "raise", "weigh", "caps"]


def test_implausible_is_accepted_and_listed(tmp_path: Path) -> None:
    told = outcome(tmp_path, GOOD.replace("low_side: 40,", "low_side: 170,"))
    assert told["finding"] == "sound"
    assert told["implausible"] == ["baseline.low_side"]


def test_several_choices_as_a_list_or_as_text(tmp_path: Path) -> None:
    for text in ("[air, sealant]", "air, sealant", "air sealant"):
        done = replayed(tmp_path, GOOD.replace("contents: none", f"contents: {text}"))
        assert done.walk.facts.get("contents") == frozenset({"air", "sealant"})


def test_scalars_are_text(tmp_path: Path) -> None:
    # In YAML 1.1 these would be octal 15, 750 in base 60, and a boolean.
    done = replayed(tmp_path, GOOD.replace("elevation: 1000", "elevation: 017").replace("none", '"none"'))
    assert done.walk.facts.get("elevation") == 17.0


def test_the_same_file_gives_the_same_outcome(tmp_path: Path) -> None:
    assert outcome(tmp_path, GOOD) == outcome(tmp_path, GOOD)


def test_an_answer_for_the_second_time_waits_for_a_second_time(tmp_path: Path) -> None:
    told = outcome(tmp_path, GOOD + "  asked_again: {frost: line}\n")
    assert told["unused"] == ["asked_again.frost"]
