"""Files that load and were made to keep lint busy, each in a process of its own: it ends in time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.engine.flow.limited import run_limited
from tests.engine.flow.lint.clean import CLEAN
from tests.engine.flow.small import changed
from tests.engine.flow.test_hostile import MEBIBYTES

PACES = 100
"""5 s, see `tests.pace`. Refusing a file has 2 s; these are read to the end, and reasoned about."""

CHECK = """
import sys
from pathlib import Path
from engine.flow.lint.run import lint
problems = lint(sys.argv[1], [f"brand{n}" for n in range(2000)])
status = Path("/proc/self/status").read_text()
errors = sum(problem.rule is None for problem in problems)
print(errors, len(problems), int(status.split("VmHWM:")[1].split()[0]) // 1024)
"""

RULE = "{when: gap < 3 K, go: gauges}"
WHEN = "when: loaded.high_side - baseline.high_side >= 15 psi"


def _rules(condition: Callable[[int], str], count: int) -> str:
    every = "\n      - ".join(f"{{when: {condition(n)}, go: judge}}" for n in range(count))
    return changed((RULE, every), text=CLEAN)


def _many_cases(n: int) -> str:
    """2^6 ways to be true, and no two rules alike."""
    clauses = " and ".join(f"(gap > {n + m}.{m} K or drive is belt)" for m in range(6))
    return f"{clauses} and not known codes"


def _watched() -> str:
    limits = [f"x{n}" for n in range(400)]
    readings = "".join(f"  {name}: {{label: X, quantity: pressure, unit: psi}}\n" for name in limits)
    watch = "".join(
        f"  - {{name: w{n}, when: {' or '.join(f'high_side > {name}' for name in limits[n * 8 : n * 8 + 8])},"
        " because: B, go: judge}\n"
        for n in range(49)
    )
    steps = "".join(
        f"  r{n}: {{title: T, do: D, exposure: [pressurised, rotating], set: loaded, settle: 1 min, "
        f"record: [high_side], next: {f'r{n + 1}' if n < 1999 else 'late'}}}\n"
        for n in range(2000)
    )
    late = f"  late: {{title: T, do: D, ask: [{', '.join(limits)}], next: judge}}\n"
    return changed(
        ("readings:\n", "readings:\n" + readings),
        ("watch:\n", "watch:\n" + watch),
        ("    next: judge\n  judge:", f"    next: r0\n{steps}{late}  judge:"),
        text=CLEAN,
    )


def _ends() -> str:
    """Thousands of steps that put gauges on, and as many ends where they stay on."""
    rules = "\n      - ".join(f"{{when: gap < {n} K, go: on{n}}}" for n in range(1, 2400))
    steps = "".join(
        f"  on{n}: {{title: T, do: Connect the gauges., exposure: [pressurised], next: end{n}}}\n"
        f"  end{n}: {{title: T, conclude: [fine, weak]}}\n"
        for n in range(1, 2400)
    )
    return changed((RULE, rules), ("signs:\n", steps + "signs:\n"), text=CLEAN)


def _prose(word: str) -> Callable[[], str]:
    text = (word * 2000)[:1900]
    findings = "".join(f"  f{n}: {{title: T, means: '{text}'}}\n" for n in range(450))
    concluded = ", ".join(f"f{n}" for n in range(450))
    return lambda: changed(
        ("findings:\n", "findings:\n" + findings),
        ("conclude: [fine, weak]", f"conclude: [fine, weak, {concluded}]"),
        text=CLEAN,
    )


def _waivers() -> str:
    listed = "".join(f"  - {{rule: asked-twice, at: gap, because: B{n}}}\n" for n in range(8000))
    again = "".join(f"  a{n}: {{title: T, do: D, ask: [gap], next: {f'a{n + 1}' if n < 1999 else 'judge'}}}\n" for n in range(2000))  # fmt: skip # noqa: E501
    return changed(
        ("start: look\n", "start: look\nwaive:\n" + listed),
        ("    next: judge\n  judge:", f"    next: a0\n{again}  judge:"),
        text=CLEAN,
    )


def _signs() -> str:
    names = "abcdefghijklmnopqrstuvwxyz"
    readings = "".join(f"  {name}: {{label: X, quantity: temperature, unit: degC}}\n" for name in names)
    condition = " and ".join(f"{name} > 3 degC" for name in names)
    signs = "".join(f"  s{n}: {{when: {condition}, says: S, weighs: {{fine: 2}}}}\n" for n in range(1500))
    return changed(
        ("readings:\n", "readings:\n" + readings),
        ("signs:\n", "signs:\n" + signs),
        ("ambient_temperature, limit, gap]", f"ambient_temperature, limit, gap, {', '.join(names)}]"),
        text=CLEAN,
    )


FILES: dict[str, Callable[[], str]] = {
    "3,500 rules in one step": lambda: _rules(
        lambda n: f"gap > {n}.5 K and gap < {n + 2}.5 K and known drive", 3_500
    ),
    "3,500 ranges in one step": lambda: _rules(lambda n: f"gap > {n}.5 K and gap < {n + 2}.5 K", 3_500),
    "2,500 rules of many cases": lambda: _rules(_many_cases, 2_500),
    "50 watch rules over 2,000 sets": _watched,
    "2,400 ends with gauges on": _ends,
    "venting, venting": _prose("vent the gas "),
    "conditions without an end": _prose("if vent the gas when "),
    "bridging": _prose("bridge"),
    "bridging in words": _prose("bridge a b c d e f "),
    "connecting": _prose("connect hoses connect "),
    "words not wanted": _prose("brand1999 "),
    "8,000 waivers": _waivers,
    "1,500 signs of 26 readings": _signs,
}


@pytest.mark.parametrize("name", FILES)
def test_lint_ends_in_time_and_memory(tmp_path: Path, name: str) -> None:
    path = tmp_path / "clean.yaml"
    path.write_text(FILES[name](), encoding="utf-8")
    result, paces = run_limited(CHECK, path, enough=PACES, wait=60, processor=30)
    assert result.returncode == 0, result.stderr[-2000:]
    errors, count, mebibytes = map(int, result.stdout.split())
    assert errors == 0, "the file was meant to load"
    assert count <= 101 + 1
    assert (paces < PACES, mebibytes < MEBIBYTES) == (True, True), (paces, mebibytes)
