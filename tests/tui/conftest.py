"""The screen under test: its own data folder, no colours of this terminal, no animation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.job.store import Store

SMALL = str(Path(__file__).parent / "flows" / "small.yaml")


@pytest.fixture(autouse=True)
def _terminal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name in ("NO_COLOR", "TEXTUAL_COLOR_SYSTEM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LOADSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "home") as opened:
        yield opened
