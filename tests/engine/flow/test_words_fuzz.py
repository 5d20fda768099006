"""Random words beside a flow never crash what reads them, and never change more than texts."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from engine.flow.load import load_bundle
from engine.flow.positions import read
from engine.flow.problem import Problems
from engine.flow.words.sidecar import match
from tests.engine.flow.small import FLOW

KEYS = st.sampled_from(
    ["language", "title", "steps", "base", "how", "do", "cautions", "eyes", "text", "reviewed", "original",
     "findings", "weak", "rivals", "stuck", "because", "more-load", "watch", "limit", "nowhere"]
)  # fmt: skip
LEAVES = st.text(max_size=12) | st.sampled_from(["xx", "Wear goggles.", "A. Name, 2026-11-25", ""])
TREES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=20,
)


def written(tree: object) -> str:
    """A tree as YAML in flow style, every text in double quotes."""
    if isinstance(tree, dict):
        return "{" + ", ".join(f"{key}: {written(value)}" for key, value in tree.items()) + "}"
    if isinstance(tree, list):
        return "[" + ", ".join(map(written, tree)) + "]"
    text = str(tree).replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{text}"'


def check(data: bytes) -> None:
    own = load_bundle({"small.yaml": FLOW.encode()}, "small.yaml")
    said = load_bundle({"small.yaml": FLOW.encode(), "small.xx.yaml": data}, "small.yaml", "xx")
    assert said.steps.keys() == own.steps.keys()
    assert {name: step.next.otherwise for name, step in said.steps.items() if step.next} == {
        name: step.next.otherwise for name, step in own.steps.items() if step.next
    }
    for name, caution in said.cautions.items():  # nothing hides an original that nobody stands for
        original = own.cautions[name].text
        assert original in caution.text or original.encode() in data
    problems = Problems()
    words, document = read(data, "small.xx.yaml", problems), read(FLOW.encode(), "small.yaml", problems)
    if words is not None and document is not None:
        match(document, words, "xx", problems)
    assert all(str(problem) for problem in problems.sorted())


@settings(max_examples=150, deadline=None, derandomize=True)
@given(TREES)
def test_random_trees(tree: object) -> None:
    check(written(tree).encode("utf-8", "replace"))


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.binary(max_size=200))
def test_random_bytes(data: bytes) -> None:
    check(data)


def test_a_file_that_is_one_word() -> None:
    check(b"!")  # found by random bytes
    check(b"[x]")
