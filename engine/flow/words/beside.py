"""The files of words beside a flow's own files: which there are, and what they say in one language."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from engine.flow.bundle import CannotRead, Files, Opened
from engine.flow.positions import Document, read
from engine.flow.problem import Place, Problems
from engine.flow.text import LARGEST
from engine.flow.words.sidecar import Words, match
from engine.flow.words.speak import Spoken, together
from engine.flow.words.texts import texts


@dataclass(frozen=True, slots=True)
class Sidecar:
    """One file of words as read, and the file it speaks for. `wrong` says why it could not be read."""

    name: str
    label: str
    language: str
    data: bytes
    of: Document
    wrong: tuple[str, str] | None = None


def sidecars_of(opened: Opened, files: Files) -> list[Sidecar]:
    """Every file of words beside the flow's file and its parts."""
    return list(_sidecars(opened, files))


def _sidecars(opened: Opened, files: Files) -> Iterator[Sidecar]:
    documents = {part.name: part.document for part in opened.parts}
    if opened.main is not None:
        documents = {opened.bundle.main: opened.main, **documents}
    room = LARGEST
    for name, document in documents.items():
        for language, beside in files.sidecars(name).items():
            label = str(Path(document.file).with_name(Path(beside).name))
            try:
                data, wrong = files.read(beside), None
            except CannotRead as error:
                data, wrong = b"", (error.what, error.hint)
            if len(data) > room:
                data, wrong = (
                    b"",
                    (f"more than {LARGEST // 1000} kB of words beside one flow", "shorten them"),
                )
            room -= len(data)
            yield Sidecar(beside, label, language, data, document, wrong)


def read_words(sidecar: Sidecar, problems: Problems) -> Words | None:
    """What the file says, with its mistakes noted; None if it cannot be read."""
    if sidecar.wrong is not None:
        problems.add(Place(sidecar.label), *sidecar.wrong)
        return None
    document = read(sidecar.data, sidecar.label, problems)
    return match(sidecar.of, document, sidecar.language, problems) if document is not None else None


def words_in(language: str, beside: list[Sidecar], settled: str) -> Spoken | None:
    """What is said in `language`, else in the one it belongs to (`xx` for `xx-YY`); None if nothing is."""
    for tag in dict.fromkeys((language, language.partition("-")[0])):
        found = []
        for sidecar in beside:
            words = read_words(sidecar, Problems()) if sidecar.language == tag else None
            if words is not None:
                found.append((words, texts(sidecar.of.root)))
        spoken = together(tag, found, settled)
        if spoken is not None:
            return spoken
    return None
