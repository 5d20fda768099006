"""The screen under test: its own data folder, no colours of this terminal, no animation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from textual import _wait

from engine.job.store import Store

SMALL = str(Path(__file__).parent / "flows" / "small.yaml")


LOOK = 0.01
"""Seconds between two looks whether the app has come to rest, half of what is built in: after each key a
test waits for three such looks at least. A screen draws every 1/120 s, so a rest of this length is one."""


@pytest.fixture(autouse=True)
def _short_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_wait, "SLEEP_IDLE", _wait.SLEEP_IDLE * LOOK / _wait.SLEEP_GRANULARITY)
    monkeypatch.setattr(_wait, "SLEEP_GRANULARITY", LOOK)


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
