"""What importing a part of the flow room brings with it, seen in a fresh interpreter."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("CoolProp", "textual", "yaml", "pydantic", "rich", "numpy", "jinja2")


def loaded_by(code: str) -> set[str]:
    """Which of the heavy modules are loaded after running some code."""
    report = f"import sys\n{code}\nprint(*[m for m in {HEAVY!r} if m in sys.modules])"
    result = subprocess.run([sys.executable, "-c", report], capture_output=True, text=True, check=True)
    return set(result.stdout.split())


@pytest.mark.parametrize(
    "module", ["engine.flow", "engine.flow.index", "engine.flow.model", "engine.flow.condition"]
)  # fmt: skip
def test_light_modules(module: str) -> None:
    assert loaded_by(f"import {module}") == set()


def test_titles_need_no_parser() -> None:
    assert loaded_by("from engine.flow.index import titles\nassert titles()") == set()


def test_checking_a_flow_needs_no_properties_and_no_screen() -> None:
    code = "from engine.flow.library import find\nfrom engine.flow.load import lint_problems\n"
    code += "assert lint_problems(find('stroke_by_load').path) == []"
    assert loaded_by(code) == {"yaml", "pydantic"}
