"""Flows of several files: what parts may hold, where they may lie, and in which file a problem is told."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from engine.flow.bundle import Bundle
from engine.flow.load import lint_problems, load_bundle, load_path
from engine.flow.problem import FlowErrors, Problem
from tests.engine.flow.small import FLOW, changed

_START, _END = FLOW.index("findings:\n"), len(FLOW)
FINDINGS = FLOW[_START:_END]
MAIN = FLOW[:_START].replace("start: weather\n", "start: weather\nuse: [parts/findings.yaml]\n")


def write(folder: Path, **files: str) -> Path:
    """The main flow with its part, some files replaced (`findings` is parts/findings.yaml)."""
    (folder / "parts").mkdir()
    (folder / "small.yaml").write_text(files.get("main", MAIN))
    (folder / "parts" / "findings.yaml").write_text(files.get("findings", FINDINGS))
    return folder / "small.yaml"


def whole(path: Path) -> list[str]:
    return [str(problem) for problem in lint_problems(path)]


def test_parts_become_one_flow(tmp_path: Path) -> None:
    flow = load_path(write(tmp_path))
    assert set(flow.findings) == {"fine", "part", "weak", "stuck", "wrong-gas", "inconclusive"}


def test_the_hash_covers_parts(tmp_path: Path) -> None:
    path = write(tmp_path)
    before = load_path(path).hash
    (tmp_path / "parts" / "findings.yaml").write_text(FINDINGS + "# new\n")
    assert load_path(path).hash != before


def test_the_hash_does_not_confuse_names_and_contents() -> None:
    one = Bundle("a.yaml", {"a.yaml": b"x", "b.yaml": b"y"})
    other = Bundle("a.yaml", {"a.yaml": b"x\0b.yaml\0001\0y"})
    assert one.hash != other.hash


def test_a_problem_in_a_part_is_told_in_the_part(tmp_path: Path) -> None:
    path = write(tmp_path, findings=FINDINGS.replace("prior: 0.5", "prior: much"))
    line = FINDINGS[: FINDINGS.index("prior: 0.5")].count("\n") + 1
    assert whole(path) == [
        f"{tmp_path}/parts/findings.yaml:{line}:12: "
        "'prior': 'much' is no positive number in finding 'weak', write it as 0.5 or 20"
    ]


def test_the_main_file_comes_first_in_the_report(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        main=MAIN.replace("revision: 3", "revision: x"),
        findings=FINDINGS.replace("prior: 0.5", "prior: x"),
    )
    assert [Path(problem.file).name for problem in lint_problems(path)] == ["small.yaml", "findings.yaml"]


def test_a_name_in_two_files_tells_both_places(tmp_path: Path) -> None:
    path = write(tmp_path, main=MAIN + "findings:\n  weak: {title: W, means: M}\n")
    (only,) = lint_problems(path)
    assert only.what == "'weak' is in 'findings' twice"
    assert (Path(only.file).name, only.line) == ("small.yaml", MAIN.count("\n") + 2)  # the author's own file
    line = FINDINGS[: FINDINGS.index("  weak:")].count("\n") + 1
    assert only.hint == f"the first one is at {tmp_path}/parts/findings.yaml:{line}:3"


@pytest.mark.parametrize("key", ["watch", "start", "findigns"])
def test_a_part_holds_only_what_is_shared(tmp_path: Path, key: str) -> None:
    path = write(tmp_path, findings=FINDINGS + f"{key}: x\n")
    (only,) = lint_problems(path)
    assert only.what == f"unknown key '{key}' in a part"


def test_a_missing_part_is_told_once_and_nothing_that_hangs_on_it(tmp_path: Path) -> None:
    path = write(tmp_path, main=MAIN.replace("parts/findings.yaml", "parts/findnigs.yaml"))
    (only,) = lint_problems(path)
    assert only.what == "there is no file 'parts/findnigs.yaml'"
    assert only.hint == "did you mean 'findings.yaml'?"
    assert (only.line, only.column) == (7, 7)


def test_a_part_that_is_no_yaml_is_told_once(tmp_path: Path) -> None:
    path = write(tmp_path, findings="findings: [x\n")
    assert [problem.file.rsplit("/", 1)[1] for problem in lint_problems(path)] == ["findings.yaml"]


@pytest.mark.parametrize(
    "name",
    [
        "../findings.yaml",
        "parts/../../findings.yaml",
        "/etc/passwd.yaml",
        "C:/x.yaml",
        "parts\\findings.yaml",
        "./findings.yaml",
        ".hidden.yaml",
        "parts/findings.txt",
        "parts//findings.yaml",
        "~/findings.yaml",
        "C:findings.yaml",
        "\\\\server\\findings.yaml",
        "//server/findings.yaml",
        "parts/..\\..\\findings.yaml",
        "@shipped/parts/findings.yaml",
        "file:findings.yaml",
    ],
)
def test_names_that_could_lead_out_are_refused_unread(tmp_path: Path, name: str) -> None:
    (tmp_path.parent / "findings.yaml").write_text("secret: 1\n")
    for used in (f"'{name}'", f"{{part: '{name}'}}"):
        (tmp_path / "small.yaml").write_text(MAIN.replace("parts/findings.yaml", used))
        _check_refused(whole(tmp_path / "small.yaml"))


def _check_refused(problems: list[str]) -> None:
    assert "is no part of this flow, a part is a .yaml file below the flow's folder" in problems[0]
    assert not any("secret" in problem for problem in problems)


def test_links_that_lead_out_are_refused(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.yaml").write_text("findings: {secret: {title: S, means: M}}\n")
    inside = tmp_path / "inside"
    inside.mkdir()
    path = write(inside)
    (inside / "parts" / "findings.yaml").unlink()
    (inside / "parts" / "findings.yaml").symlink_to(outside / "secret.yaml")
    (only,) = lint_problems(path)
    assert "'parts/findings.yaml' leads out of the flow's folder" in str(only)


def test_a_folder_link_that_leads_out_is_refused_and_one_inside_is_fine(tmp_path: Path) -> None:
    path = write(tmp_path)
    (tmp_path / "more").symlink_to(tmp_path / "parts")
    path.write_text(MAIN.replace("parts/", "more/"))
    assert whole(path) == []
    (tmp_path / "more").unlink()
    (tmp_path / "more").symlink_to("/etc")
    assert any("leads out" in problem for problem in whole(path))


def test_links_in_a_circle_are_a_sentence(tmp_path: Path) -> None:
    path = write(tmp_path)
    part = tmp_path / "parts" / "findings.yaml"
    part.unlink()
    part.symlink_to(part)
    assert len(whole(path)) == 1


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_does_not_hang(tmp_path: Path) -> None:
    path = tmp_path / "small.yaml"
    os.mkfifo(path)
    assert whole(path) == [f"{path}: 'small.yaml' is not a plain file, name a .yaml file"]


def test_what_is_not_there_or_no_file(tmp_path: Path) -> None:
    (tmp_path / "small.yaml").write_text(FLOW)
    assert whole(tmp_path / "smal.yaml") == [
        f"{tmp_path}/smal.yaml: there is no file 'smal.yaml', did you mean 'small.yaml'?"
    ]
    assert "is a folder" in whole(tmp_path)[0]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_the_right_to_read(tmp_path: Path) -> None:
    path = tmp_path / "small.yaml"
    path.write_text(FLOW)
    path.chmod(0)
    assert "cannot be read (Permission denied), check the file and its rights" in whole(path)[0]


def test_kept_files_need_all_parts() -> None:
    with pytest.raises(FlowErrors) as caught:
        load_bundle({"small.yaml": MAIN.encode(), "parts/finding.yaml": b""}, "small.yaml")
    assert [problem.what for problem in caught.value.problems] == ["part 'parts/findings.yaml' is not here"]


def test_too_many_parts_and_one_used_twice() -> None:
    twice = MAIN.replace("[parts/findings.yaml]", "[parts/findings.yaml, parts/findings.yaml]")
    many = MAIN.replace("[parts/findings.yaml]", "[" + ", ".join(f"p{n}.yaml" for n in range(31)) + "]")
    for text, what in ((twice, "'parts/findings.yaml' is used twice"), (many, "more than 30 parts")):
        with pytest.raises(FlowErrors) as caught:
            load_bundle({"small.yaml": text.encode(), "parts/findings.yaml": FINDINGS.encode()}, "small.yaml")
        assert what in [problem.what for problem in caught.value.problems]


def test_a_flow_with_its_parts_has_one_limit() -> None:
    padding = b"# " + b"x" * 900_000 + b"\n"
    parts = [f"p{n}.yaml" for n in range(4)]
    main = MAIN.replace("[parts/findings.yaml]", f"[parts/findings.yaml, {', '.join(parts)}]").encode()
    files = {"small.yaml": main, "parts/findings.yaml": FINDINGS.encode() + padding}
    files |= dict.fromkeys(parts, b"signs: {}\n" + padding)
    with pytest.raises(FlowErrors, match="more than 4000 kB in all files together"):
        load_bundle(files, "small.yaml")


def test_one_file_has_its_own_limit() -> None:
    with pytest.raises(FlowErrors, match="more than 1000 kB, a flow file has at most"):
        load_bundle({"small.yaml": MAIN.encode() + b"# " + b"x" * 1_000_000}, "small.yaml")


def test_the_report_is_cut_at_a_hundred_and_counts_the_rest(tmp_path: Path) -> None:
    wrong = "".join(f"  f{n}: {{title: T}}\n" for n in range(150))
    path = tmp_path / "small.yaml"
    path.write_text(FLOW + wrong)
    found = lint_problems(path)
    assert len(found) == 101
    assert found[-1] == Problem(str(path), None, None, "and 50 more problems", "mend these first")
    with pytest.raises(FlowErrors) as caught:
        load_path(path)
    assert (len(caught.value.problems), caught.value.more) == (100, 50)
    assert str(caught.value).endswith("\nand 50 more")


def test_a_flow_named_otherwise_than_its_file(tmp_path: Path) -> None:
    path = tmp_path / "other.yaml"
    path.write_text(changed())
    assert "flow 'small' is in a file called 'other', write 'flow: other'" in whole(path)[0]


@pytest.mark.parametrize("path", ["x\0/y.yaml", "a\0b.yaml", "", "/", "x" * 5000 + "/y.yaml"])
def test_paths_that_are_none_are_one_sentence(path: str) -> None:
    assert len(lint_problems(path)) == 1


def test_a_folder_that_is_a_link_to_itself_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "round").symlink_to(tmp_path / "round")
    assert len(lint_problems(tmp_path / "round" / "x.yaml")) == 1
