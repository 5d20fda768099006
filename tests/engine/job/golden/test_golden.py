"""Golden walks: what differs is told, and accepted without touching anything else in the file."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from engine.job.golden.accept import NotAccepted, accept
from engine.job.golden.checking import Checked, State, check
from engine.job.golden.difference import told
from engine.job.golden.places import walks_in
from engine.job.replay.file import read_replay

TINY = Path(__file__).parents[1] / "replay" / "tiny.yaml"

WALK = """\
# A walk that was made up.
format: 1
flow: tiny.yaml
facts:
  drive: belt  # by sight
  contents: none
  refrigerant: R-134a
  baseline: {low_side: 40, high_side: 10}
  loaded: {low_side: 2.5 bar, high_side: 12.5}
"""

RIGHT = ["arrive", "base", "raise", "weigh", "caps"]
"""By hand, along tiny.yaml: a belt drive, clean contents, both sets read, nothing at its limit."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(TINY, tmp_path)
    return tmp_path


def written(folder: Path, expect: str = "", name: str = "walk.yaml", newline: str = "\n") -> str:
    text = (WALK + expect).replace("\n", newline)
    (folder / name).write_bytes(text.encode())
    return str(folder / name)


def checked(file: str) -> Checked:
    """The only walk of the file."""
    [one] = check(file)
    return one


def accepted(file: str) -> str:
    accept(check(file))
    return Path(file).read_bytes().decode()


def test_a_walk_that_comes_to_what_it_says_holds(folder: Path) -> None:
    file = written(folder, f"expect:\n  finding: sound\n  path: [{', '.join(RIGHT)}]\n")
    assert checked(file).state is State.HOLDS
    assert list(told(checked(file))) == []


def test_finding_or_path_may_be_left_out(folder: Path) -> None:
    assert checked(written(folder, "expect: {finding: sound}\n")).state is State.HOLDS
    assert checked(written(folder, f"expect: {{path: [{', '.join(RIGHT)}]}}\n")).state is State.HOLDS
    assert checked(written(folder, "expect: {finding: weak}\n")).state is State.DIFFERS


def test_what_differs_is_told_where_it_is_expected(folder: Path) -> None:
    file = written(folder, "expect:\n  finding: weak\n  path: [arrive, base, early, weigh, caps]\n")
    assert list(told(checked(file))) == [
        f"{file}:10:1: this walk comes to something else",
        "  finding",
        "    - weak",
        "    + sound",
        "  path",
        "    …",
        "      arrive",
        "      base",
        "    - early",
        "    + raise",
        "      weigh",
        "      caps",
    ]


def test_a_walk_that_expects_nothing_yet_is_new(folder: Path) -> None:
    new = checked(written(folder))
    assert (new.state, new.finding, list(new.path)) == (State.NEW, "sound", RIGHT)
    assert list(told(new))[1:] == ["  it comes to sound", f"  by {' > '.join(RIGHT)}"]


def test_a_broken_flow_is_told_with_its_place(folder: Path) -> None:
    file = written(folder, "expect: {finding: sound}\n")
    text = TINY.read_text().replace("go: early", "go: erly")
    (folder / "tiny.yaml").write_text(text)
    before = text[: text.index("erly")].split("\n")
    broken = checked(file)
    assert broken.state is State.BROKEN
    assert (
        f"tiny.yaml:{len(before)}:{len(before[-1]) + 1}: there is no step 'erly', did you mean 'early'?"
        in "\n".join(told(broken))
    )


def test_accepting_writes_finding_and_path_where_nothing_was_expected(folder: Path) -> None:
    file = written(folder)
    expect = f"expect:\n  finding: sound\n  path: [{', '.join(RIGHT)}]\n"
    assert accepted(file) == WALK + expect
    assert checked(file).state is State.HOLDS


@pytest.mark.parametrize(
    ("expect", "after"),
    [
        ("expect:\n  finding: weak  # once\n# end\n", "expect:\n  finding: sound  # once\n# end\n"),
        ('expect: {finding: "weak"} # once\n', "expect: {finding: sound} # once\n"),
        (
            "expect:\n  # way\n  path:\n    - arrive  # first\n    - caps\n  # end\n  finding: sound\n",
            "expect:\n  # way\n  path: [arrive, base, raise, weigh, caps]\n  # end\n  finding: sound\n",
        ),
        (
            "expect: {path: [arrive], finding: weak}\n",
            f"expect: {{path: [{', '.join(RIGHT)}], finding: sound}}\n",
        ),
        ("expect:\n  path: []\n", f"expect:\n  path: [{', '.join(RIGHT)}]\n"),
    ],
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_accepting_touches_only_what_differs(folder: Path, expect: str, after: str, newline: str) -> None:
    file = written(folder, expect, newline=newline)
    assert accepted(file) == (WALK + after).replace("\n", newline)
    assert checked(file).state is State.HOLDS


def test_a_key_after_expect_stays_where_it_is(folder: Path) -> None:
    head, facts = WALK.split("facts:")
    (folder / "walk.yaml").write_text(head + "expect: {finding: weak}\n\n# Read:\nfacts:" + facts)
    file = str(folder / "walk.yaml")
    assert accepted(file) == head + "expect: {finding: sound}\n\n# Read:\nfacts:" + facts


def test_a_long_path_is_wrapped_and_read_back(folder: Path) -> None:
    names = ["a-step-with-a-rather-long-name-number-" + str(number) for number in range(12)]
    file = written(folder, "expect:\n  finding: weak\n  path: [arrive]\n")
    accept([replace(checked(file), path=tuple(names))])
    expected = read_replay(file).expected
    assert expected is not None
    assert expected.path == tuple(names)
    assert max(map(len, Path(file).read_text().splitlines())) <= 110


def test_a_layout_that_cannot_be_added_to_is_left_as_it_was(folder: Path) -> None:
    file = folder / "walk.yaml"
    file.write_text("{format: 1, flow: tiny.yaml, facts: {drive: belt}}\n")
    with pytest.raises(NotAccepted, match=r"write each expect: as a key of its own"):
        accept(check(str(file)))
    assert file.read_text() == "{format: 1, flow: tiny.yaml, facts: {drive: belt}}\n"
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == []


def test_what_could_not_be_walked_is_never_accepted(folder: Path) -> None:
    file = written(folder, "expect: {finding: weak}\n")
    (folder / "tiny.yaml").write_text("format: 1\n")
    with pytest.raises(ValueError, match="was not walked"):
        accept(check(file))


def test_walks_are_found_below_a_folder_and_flows_and_parts_are_not(folder: Path) -> None:
    written(folder)
    (folder / "walks" / ".old").mkdir(parents=True)
    written(folder, name="walks/b.yaml")
    written(folder, name="walks/.old/c.yaml")
    (folder / "walks" / "broken.yaml").write_text("facts:\n  - [\n")
    (folder / "part.yaml").write_text("readings:\n  facts: {label: Facts}\n")
    found = [str(path.relative_to(folder)) for path in walks_in(folder)]
    assert found == ["walk.yaml", "walks/b.yaml", "walks/broken.yaml"]
    with pytest.raises(FileNotFoundError):
        walks_in(folder / "nothing")


WALKS = """\
walks:
  as it is: {expect: {finding: sound}}
  by motor:
    # no belt
    facts: {drive: electric}
    expect: {finding: weak}
  flat: {facts: {loaded: {high_side: 10}}}
  flatter:
    facts: {loaded: {high_side: 10}}
"""


def test_a_file_with_walks_is_a_walk_of_its_own_only_if_it_says_what_to_expect(folder: Path) -> None:
    file = written(folder, WALKS)
    assert [(one.walk, one.state) for one in check(file)] == [
        ("as it is", State.HOLDS),
        ("by motor", State.DIFFERS),
        ("flat", State.NEW),
        ("flatter", State.NEW),
    ]
    assert check(written(folder, "expect: {finding: sound}\n" + WALKS))[0].walk == ""


def test_a_walk_is_told_by_its_name_where_it_stands(folder: Path) -> None:
    file = written(folder, WALKS)
    _, motor, flat, _ = check(file)
    assert list(told(motor))[:4] == [
        f"{file}:15:5: 'by motor' comes to something else",
        "  finding",
        "    - weak",
        "    + high-voltage",
    ]
    assert next(iter(told(flat))) == f"{file}:16:3: nothing is expected of 'flat' yet"


def test_the_walks_of_a_file_are_accepted_together(folder: Path) -> None:
    file = written(folder, WALKS)
    accept([one for one in check(file) if one.state is not State.HOLDS])
    text = Path(file).read_text()
    path = "[arrive, base, raise, weigh, caps]"
    assert text == WALK + WALKS.replace("{finding: weak}", "{finding: high-voltage}").replace(
        "flat: {facts", f"flat: {{expect: {{finding: {check(file)[2].finding}, path: {path}}}, facts"
    ).replace(
        "    facts: {loaded: {high_side: 10}}\n",
        f"    expect:\n      finding: {check(file)[3].finding}\n      path: {path}\n"
        "    facts: {loaded: {high_side: 10}}\n",
    )
    assert [one.state for one in check(file)] == [State.HOLDS] * 4


def test_facts_that_are_wrong_for_all_walks_are_told_once(folder: Path) -> None:
    (folder / "walk.yaml").write_text((WALK + WALKS).replace("drive: belt", "drive: rope"))
    [broken] = check(str(folder / "walk.yaml"))
    assert broken.state is State.BROKEN
    assert len(list(told(broken))) == 1


def test_a_walk_that_is_wrong_leaves_the_others_alone(folder: Path) -> None:
    file = written(folder, WALKS.replace("drive: electric", "drive: rope"))
    assert [one.state for one in check(file)][:2] == [State.HOLDS, State.BROKEN]
