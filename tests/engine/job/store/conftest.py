"""Temporary folders of stores that could not be where they belong stay inside the test's own."""

from __future__ import annotations

import tempfile

import pytest


@pytest.fixture(autouse=True)
def spare_folders(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path_factory.mktemp("spare")))
    monkeypatch.setattr(tempfile, "tempdir", None)
