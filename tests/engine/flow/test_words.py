"""A flow's texts in a made-up language, from files beside it."""

# ruff: noqa: E501 (one case a line)

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.bundle import FolderFiles, MemoryFiles
from engine.flow.library import Source, shipped
from engine.flow.load import examine, lint_problems, load_bundle, load_kept, load_path
from engine.flow.model import Flow
from engine.flow.places import SHARED, Place, flows_in
from engine.flow.problem import Problem
from engine.flow.words.problems import word_problems as problems_of
from tests.engine.flow.small import FLOW

_START = FLOW.index("findings:\n")
MAIN = FLOW[:_START].replace("start: weather\n", "start: weather\nuse: [parts/findings.yaml]\n")
PART = FLOW[_START:]

WORDS = """\
language: xx
title: Titulo-xx
about: Aboto-xx
settled: Setlo-xx
readings:
  fan: {label: Ventilo-xx, choices: {runs: Kuras-xx}}
  high_side: {how: Legu-xx, unknown: Domage-xx}
sets:
  baseline: {label: Bazo-xx, fixed: [Pordoj-xx]}
cautions:
  eyes: {text: Okuloj-xx, original: Wear goggles., reviewed: 'A. Reviewer, 2026-11-25'}
  burst: {text: Krevo-xx}
watch:
  limit: {because: Limo-xx}
steps:
  base: {title: Bazo-xx, do: Lasu-xx, why: Kompari-xx, how: [Pordoj-xx, Atendu-xx]}
  more-load: {because: [respondis-xx], settled: Staras-xx}
signs:
  fan-off: {says: Haltis-xx}
"""

PART_WORDS = """\
language: xx
findings:
  weak: {title: Malforta-xx, means: Tro-malmulte-xx, rivals: {stuck: Plialtigu-xx}, confirm: [Pezu-xx], repair: [Anstatauxigu-xx], verify: [Mezuru-xx], note: Noto-xx}
"""


def write(folder: Path, words: str = WORDS, part_words: str = PART_WORDS, main: str = MAIN) -> Path:
    (folder / "parts").mkdir(exist_ok=True)
    (folder / "small.yaml").write_text(main)
    (folder / "parts" / "findings.yaml").write_text(PART)
    (folder / "small.xx.yaml").write_text(words)
    (folder / "parts" / "findings.xx.yaml").write_text(part_words)
    return folder / "small.yaml"


@pytest.fixture
def spoken(tmp_path: Path) -> Flow:
    return load_path(write(tmp_path), "xx")


def test_every_kind_of_text_can_be_said(spoken: Flow) -> None:
    assert (spoken.language, spoken.title, spoken.about) == ("xx", "Titulo-xx", "Aboto-xx")
    fan, high = spoken.readings["fan"], spoken.readings["high_side"]
    assert (fan.label, [choice.label for choice in fan.choices]) == ("Ventilo-xx", ["Kuras-xx", "Stopped"])
    assert (high.how, high.unknown_hint) == ("Legu-xx", "Domage-xx")
    assert (spoken.sets["baseline"].label, spoken.sets["baseline"].fixed) == ("Bazo-xx", ("Pordoj-xx",))
    assert spoken.watch[0].because == "Limo-xx"
    base = spoken.steps["base"]
    assert (base.title, base.do, base.why, base.how) == (
        "Bazo-xx",
        "Lasu-xx",
        "Kompari-xx",
        ("Pordoj-xx", "Atendu-xx"),
    )
    assert (base.settled, spoken.steps["more-load"].settled) == ("Setlo-xx", "Staras-xx")
    way = spoken.steps["more-load"].next
    assert way is not None
    assert way.rules[0].because == "respondis-xx"
    assert spoken.signs["fan-off"].says == "Haltis-xx"


def test_parts_have_words_of_their_own(spoken: Flow) -> None:
    weak = spoken.findings["weak"]
    assert (weak.title, weak.means, weak.note) == ("Malforta-xx", "Tro-malmulte-xx", "Noto-xx")
    assert (weak.rivals, weak.confirm) == ({"stuck": "Plialtigu-xx"}, ("Pezu-xx",))
    assert (weak.repair, weak.verify) == (("Anstatauxigu-xx",), ("Mezuru-xx",))


def test_what_is_not_said_stays_in_the_flows_own_language(spoken: Flow) -> None:
    assert spoken.steps["weather"].title == "The day"
    assert spoken.signs["answers"].says == "the high side rose with the load"
    assert spoken.findings["stuck"].means == "The valve does not move."


def test_only_texts_change(spoken: Flow, tmp_path: Path) -> None:
    own = load_path(tmp_path / "small.yaml")
    assert own.title == "Does it answer the load?"
    assert own.language == ""
    for flow in (own, spoken):
        assert flow.hash == own.hash
    assert [(s.id, s.ask, s.record, s.cautions) for s in spoken.steps.values()] == [
        (s.id, s.ask, s.record, s.cautions) for s in own.steps.values()
    ]
    assert [sign.when.text for sign in spoken.signs.values()] == [
        sign.when.text for sign in own.signs.values()
    ]


def test_a_caution_nobody_stands_for_shows_its_original_first(spoken: Flow) -> None:
    assert spoken.cautions["eyes"].text == "Okuloj-xx"
    assert spoken.cautions["burst"].text == "It can burst. (xx, not reviewed: Krevo-xx)"
    assert spoken.cautions["belt"].text == "Keep clear."


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("original: Wear goggles., ", ""),
        ("original: Wear goggles.", "original: Wear gloves."),  # the flow's text is another one since
        (", reviewed: 'A. Reviewer, 2026-11-25'", ""),
        ("'A. Reviewer, 2026-11-25'", "'yes'"),
        ("'A. Reviewer, 2026-11-25'", "'2026-11-25'"),
        ("'A. Reviewer, 2026-11-25'", "A. Reviewer"),
    ],
)
def test_a_review_names_who_when_and_what(tmp_path: Path, old: str, new: str) -> None:
    flow = load_path(write(tmp_path, WORDS.replace(old, new)), "xx")
    assert flow.cautions["eyes"].text == "Wear goggles. (xx, not reviewed: Okuloj-xx)"


def test_a_language_nobody_wrote_is_the_flows_own_and_a_narrower_one_falls_back(tmp_path: Path) -> None:
    path = write(tmp_path)
    assert load_path(path, "yy").title == "Does it answer the load?"
    assert load_path(path, "yy").language == ""
    assert load_path(path, "xx-YY").title == "Titulo-xx"


def test_words_are_kept_with_a_job_and_hashed(tmp_path: Path) -> None:
    path = write(tmp_path)
    flow, bundle = load_kept(Source("small", path))
    assert {"small.xx.yaml", "parts/findings.xx.yaml"} <= bundle.files.keys()
    assert load_bundle(bundle.files, bundle.main, "xx").title == "Titulo-xx"
    assert load_bundle(bundle.files, bundle.main).hash == flow.hash
    (tmp_path / "small.xx.yaml").write_text(WORDS + "# new\n")
    assert load_path(path).hash != flow.hash


def test_broken_words_keep_no_flow_from_being_walked(tmp_path: Path) -> None:
    for words in (
        "a: [",
        "\t",
        "[x]",
        "",
        "language: xx\ntitle: ''\nsteps: {base: {do: " + "x" * 3000 + "}}\n",
    ):
        path = write(tmp_path, words)
        assert lint_problems(path) == []
        flow = load_path(path, "xx")
        assert flow.title == "Does it answer the load?"
        assert flow.findings["weak"].title == "Malforta-xx"
        assert any(problem.rule is None for problem in word_problems(path)), words


def word_problems(path: Path, language: str | None = None) -> list[Problem]:
    return problems_of(examine(path).opened, language)


def told(problems: list[Problem]) -> list[str]:
    return [f"{Path(one.file).name}:{one.line}: {one.what}, {one.hint}" for one in problems]


def errors(path: Path) -> list[str]:
    return told([problem for problem in word_problems(path) if problem.rule is None])


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("title: Titulo-xx", "titel: Titulo-xx", "small.xx.yaml:2: there is nothing called 'titel' to say otherwise, did you mean 'title'?"),
        ("  base: {title", "  bas: {title", "small.xx.yaml:16: there is nothing called 'steps bas title' to say otherwise, did you mean 'steps base title'?"),
        ("fixed: [Pordoj-xx]", "fixed: [Pordoj-xx, Io-xx]", "small.xx.yaml:9: sentences of 'sets baseline fixed': 1 in the flow, 2 here, give one for each, in the same order"),
        ("because: [respondis-xx]", "because: [respondis-xx, kaj-xx]", "small.xx.yaml:17: sentences of 'steps more-load because': 1 in the flow, 2 here, give one for each, in the same order"),
        ("language: xx\n", "", "small.xx.yaml:1: 'language' is missing, add 'language: xx'"),
        ("language: xx", "language: yy", "small.xx.yaml:1: language 'yy' is in a file of 'xx', write 'language: xx'"),
        ("{says: Haltis-xx}", "{says: ''}", "small.xx.yaml:19: 'signs fan-off says' is empty, write it or delete the key"),
        ("'A. Reviewer, 2026-11-25'", "'yes'", "small.xx.yaml:11: 'reviewed' names who, and when, write it as in 'A. Name, 2026-11-25'"),
        ("original: Wear goggles., ", "", "small.xx.yaml:11: caution 'eyes' does not say what was reviewed, add 'original:' with the text that was reviewed, word for word"),
        ("weak: {title: Malforta-xx", "weak: {titol: Malforta-xx", None),
    ],
)  # fmt: skip
def test_stale_words_are_problems_at_their_place(
    tmp_path: Path, old: str, new: str, expected: str | None
) -> None:
    if expected is None:
        path = write(tmp_path, part_words=PART_WORDS.replace(old, new))
        assert errors(path)[0].startswith("findings.xx.yaml:3: there is nothing called 'findings weak titol'")
        return
    assert expected in errors(write(tmp_path, WORDS.replace(old, new)))


def test_what_is_not_said_is_listed(tmp_path: Path) -> None:
    found = [problem for problem in word_problems(write(tmp_path)) if problem.rule == "not-said"]
    texts = [problem.what for problem in found]
    assert "not said in 'xx': signs answers says" in texts
    assert "not said in 'xx': readings fan choices stopped" in texts
    assert "not said in 'xx': findings stuck title, findings stuck means" in texts
    assert not any("cautions eyes" in text for text in texts)


def test_cautions_that_were_not_reviewed_or_changed_since_are_listed(tmp_path: Path) -> None:
    main = MAIN.replace("text: Wear goggles.", "text: Wear a face shield.")
    warned = {problem.rule: problem.what for problem in word_problems(write(tmp_path, main=main))}
    assert warned["not-reviewed"].startswith("nobody stands for the words of caution 'burst'")
    assert warned["changed-since-review"].startswith("caution 'eyes' was reviewed against another text")


def test_a_language_asked_for_that_is_not_there_counts_as_nothing_said(tmp_path: Path) -> None:
    path = write(tmp_path)
    assert [(Path(one.file).name, one.rule) for one in word_problems(path, "yy")] == [
        ("small.yaml", "not-said"),
        ("findings.yaml", "not-said"),
    ]
    (tmp_path / "parts" / "findings.xx.yaml").unlink()
    assert "nothing is said in 'xx'" in " ".join(
        one.what for one in word_problems(path) if "findings.yaml" in one.file
    )


def test_a_file_of_words_is_no_flow(tmp_path: Path) -> None:
    write(tmp_path)
    assert FolderFiles(tmp_path).flows() == ["small"]
    assert MemoryFiles({"small.yaml": b"", "small.xx.yaml": b""}).flows() == ["small"]
    assert [found.name for found in flows_in(Place(SHARED, tmp_path))] == ["shared:small"]
    assert all("." not in source.name for source in shipped())


def test_words_behind_a_link_that_leads_out_are_not_read(tmp_path: Path) -> None:
    path = write(tmp_path)
    outside = tmp_path.parent / f"{tmp_path.name}-outside.yaml"
    outside.write_text(WORDS)
    (tmp_path / "small.xx.yaml").unlink()
    (tmp_path / "small.xx.yaml").symlink_to(outside)
    assert load_path(path, "xx").title == "Does it answer the load?"
    assert any("leads out of the flow's folder" in line for line in errors(path))
