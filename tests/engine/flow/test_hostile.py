"""Hostile files, each checked in a process of its own: refused within 2 s and 200 MiB, with a sentence."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.engine.flow.limited import run_limited
from tests.engine.flow.small import FLOW, changed

PACES = 40
"""The 2 s of the issue, see `tests.pace`."""
MEBIBYTES = 200

CHECK = """
import sys
from pathlib import Path
from engine.flow.load import lint_problems
problems = lint_problems(sys.argv[1])
for problem in problems[:3]:
    print(problem)
# Not getrusage: its peak is carried over from the process that started this one, which may be a large pytest.
status = Path("/proc/self/status").read_text()
print(len(problems), int(status.split("VmHWM:")[1].split()[0]) // 1024)
"""


def _bomb() -> str:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 30)]
    return "\n".join(lines)


def _keys() -> str:
    return "readings:\n" + "".join(f"  r{n}: {{label: x, quantity: ratio}}\n" for n in range(25_000))


def _watched() -> str:
    """A long flow in which nearly everything is right: every step records under 50 watch rules."""
    watch = "".join(f"  - {{name: w{n}, when: high_side > 5 psi, because: B, go: stop}}\n" for n in range(49))
    steps = "".join(
        f"  x{n}: {{title: T, do: D, exposure: [pressurised], set: baseline, record: [duty], next: "
        f"[{{when: fan is runs and loaded.duty > 5 percent, go: x{n + 1}}}, {{unknown: stop}}, {{otherwise: x{n // 2}}}]}}\n"
        for n in range(3_000)
    )
    text = changed(
        ("    go: cool\n    again: stop\n", "    go: stop\n" + watch), ("start: weather", "start: x0")
    )
    return text.replace("steps:\n", "steps:\n" + steps + "  x3000: {title: T, do: D, next: weather}\n")


def _cautious() -> str:
    cautions = "".join(
        f"  c{n}: {{signal: NOTICE, exposure: e{n}, text: T, source: S}}\n" for n in range(495)
    )
    every = ", ".join(f"e{n}" for n in range(490))
    steps = "".join(f"  x{n}: {{title: T, do: D, exposure: [{every}], next: stop}}\n" for n in range(150))
    return FLOW.replace("cautions:\n", "cautions:\n" + cautions).replace("steps:\n", "steps:\n" + steps)


def _choosy() -> str:
    words = ", ".join(f"w{n}: x" for n in range(15_000))
    rules = "".join(f"      - {{when: fan is w{n}x, go: stop}}\n" for n in range(5_000))
    text = FLOW.replace("choices: {runs: Runs, stopped: Stopped}", f"choices: {{{words}}}")
    return text.replace("      - {when: contamination", rules + "      - {when: contamination")


FILES: dict[str, Callable[[], str | bytes]] = {
    "alias bomb": _bomb,
    "aliases without end": lambda: "a: &a [x]\nb: [" + "*a, " * 200_000 + "]\n",
    "an anchor in itself": lambda: "a: &a [*a]\n",
    "50 MB": lambda: b"a: " + b"x" * 50_000_000,
    "depth 10,000 of lists": lambda: "[" * 10_000 + "]" * 10_000,
    "depth 10,000 of mappings": lambda: "{a: " * 10_000 + "x" + "}" * 10_000,
    "depth 500,000": lambda: "[" * 500_000,
    "depth by indent": lambda: "\n".join(" " * n + "a:" for n in range(1_400)),
    "depth by dashes": lambda: "- " * 300_000 + "x",
    "depth by question marks": lambda: "? " * 300_000 + "x",
    "a python tag": lambda: "a: !!python/object/apply:os.system ['touch /tmp/owned']\n",
    "control codes": lambda: changed(("title: Does", "title: \x1b]0;owned\x07Does")),
    "escaped control codes": lambda: changed(("title: Does it answer the load?", 'title: "\\x1b]0;owned\\x07"')),
    "reversed text": lambda: changed(("title: Does", "title: \u202eDoes")),
    "a number of 900,000 digits": lambda: changed(("revision: 3", "revision: " + "9" * 900_000)),
    "a prior of 900,000 digits": lambda: changed(("prior: 0.5", "prior: " + "9" * 900_000)),
    "a range of 900,000 digits": lambda: changed(("-15 to 160 psi", "1" * 900_000 + " to 160 psi")),
    "a number in a condition": lambda: changed(("<\x20" "60 percent", "< " + "9" * 400 + " percent")),
    "a condition of 900,000 characters": lambda: changed(("when: fan is stopped", "when: " + "(" * 900_000)),
    "a name of 900,000 characters": lambda: changed(("ask: [fan]", "ask: [" + "f" * 900_000 + "]")),
    "a key of 900,000 characters": lambda: "k" * 900_000 + ": x\n",
    "25,000 readings": _keys,
    "300,000 items": lambda: "a: [" + "x," * 300_000 + "]",
    "60,000 unknown keys": lambda: "".join(f"k{n}: x\n" for n in range(60_000)),
    "60,000 equal keys": lambda: "k: x\n" * 60_000,
    "10,000 unknown names": lambda: changed(("ask: [fan]", "ask: [" + ", ".join(f"n{n}" for n in range(10_000)) + "]")),
    "10,000 equal names": lambda: changed(("ask: [fan]", "ask: [" + "fan, " * 10_000 + "]")),
    "10,000 wrong steps": lambda: FLOW.replace(
        "signs:\n", "".join(f"  x{n}: {{title: T, do: D, next: y{n}}}\nsigns:\n"[:-7] for n in range(10_000)) + "signs:\n"
    ),
    "3,000 watched steps": _watched,
    "150 steps of 490 exposures": _cautious,
    "15,000 choices and 5,000 conditions": _choosy,
    "5,000 parts": lambda: changed(("start: weather", "start: weather\nuse: [" + ", ".join(f"p{n}.yaml" for n in range(5_000)) + "]")),
    "random bytes": lambda: bytes(range(256)) * 3_000,
    "a picture's head": lambda: b"\x89PNG\r\n\x1a\n" + b"\0" * 1_000,
    "zeros": lambda: b"\0" * 900_000,
    "one long line of colons": lambda: ": " * 400_000,
    "one long quote": lambda: 'a: "' + "x" * 900_000,
    "a block of 900,000 characters": lambda: changed(("about: A made-up flow for tests.", "about: |\n  " + "x " * 450_000)),
    "UTF-16": lambda: FLOW.encode("utf-16"),
    "nothing": lambda: b"",
}  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_refused_in_time_and_memory(tmp_path: Path, name: str) -> None:
    content = FILES[name]()
    path = tmp_path / "small.yaml"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    result, paces = run_limited(CHECK, path, enough=PACES, wait=30, processor=20)
    assert result.returncode == 0, result.stderr[-2000:]
    *problems, numbers = result.stdout.splitlines()
    count, mebibytes = map(int, numbers.split())
    assert count >= 1
    assert all(len(problem) < 500 for problem in problems)
    assert all(character.isprintable() for problem in problems for character in problem)
    assert (paces < PACES, mebibytes < MEBIBYTES) == (True, True), (paces, mebibytes)
    assert not Path("/tmp/owned").exists()
