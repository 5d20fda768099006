"""What is wrong with the words beside a flow, and what is not said in another language yet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from engine.flow.bundle import FolderFiles, Opened
from engine.flow.positions import Document
from engine.flow.problem import Place, Problem, Problems
from engine.flow.words.beside import Sidecar, read_words, sidecars_of
from engine.flow.words.sidecar import Words
from engine.flow.words.texts import Key, in_words, texts

NOT_SAID, NOT_REVIEWED, CHANGED = "not-said", "not-reviewed", "changed-since-review"
"""Rules that warn of words; an error is a word for nothing, or a file that cannot be read."""

RULES = {
    NOT_SAID: (
        "Where words are missing the flow's own language shows, which some readers do not have.",
        "Say the text in the file of words, or delete that file.",
    ),
    NOT_REVIEWED: (
        "A caution said wrongly is a hazard. Until somebody stands for it, the original is shown before it.",
        "Have it read by someone who knows the trade and both languages; add 'reviewed:' and 'original:'.",
    ),
    CHANGED: (
        "The caution was reviewed against another text than the flow has now.",
        "Have it reviewed again and bring 'original:' up to date.",
    ),
}
"""Each with the reason for it and the remedy."""


def word_problems(opened: Opened, language: str | None = None) -> list[Problem]:
    """Problems of every file of words beside a flow without errors, or of one language; by place.

    With a language that nobody has written words in, every text counts as not said. Never raises for bad
    input.
    """
    beside = sidecars_of(opened, FolderFiles(Path(opened.label).parent))
    found: list[Problem] = []
    for one in beside:
        if language is None or one.language == language:
            found += _of_file(one)
    for tag in sorted({one.language for one in beside}) if language is None else [language]:
        said_for = {one.of.file for one in beside if one.language == tag}
        found += [
            _no_words(document, tag) for document in _documents(opened) if document.file not in said_for
        ]
    return found


def _documents(opened: Opened) -> list[Document]:
    own = [opened.main] if opened.main is not None else []
    return [one for one in (*own, *(part.document for part in opened.parts)) if texts(one.root)]


def _no_words(document: Document, language: str) -> Problem:
    file = Path(document.file)
    what = f"nothing is said in '{language}' ({len(texts(document.root))} texts)"
    hint = f"begin a file '{file.stem}.{language}.yaml' beside it"
    return Problem(document.file, None, None, what, hint, NOT_SAID)


def _of_file(sidecar: Sidecar) -> list[Problem]:
    problems = Problems()
    words = read_words(sidecar, problems)
    errors = problems.sorted()
    return [*errors, *_warnings(sidecar, words)] if words is not None else errors


def _warnings(sidecar: Sidecar, words: Words) -> Iterator[Problem]:
    for key, place in words.places.items():
        if key[0] != "cautions":
            continue
        name = str(key[1])
        if name in words.changed:
            what = f"caution '{name}' was reviewed against another text than the flow has now"
            yield _warning(place, what, "have it reviewed again", CHANGED)
        elif name not in words.reviewed:
            what = f"nobody stands for the words of caution '{name}', so the original is shown before them"
            yield _warning(place, what, "add 'reviewed:' (who, when) and 'original:'", NOT_REVIEWED)
    grouped = defaultdict[tuple[str, ...], list[Key]](list)
    for key in words.missing:
        grouped[tuple(str(part) for part in key[:2])].append(key)
    for keys in grouped.values():
        names = ", ".join(in_words(key) for key in keys)
        yield _warning(Place(sidecar.label), f"not said in '{sidecar.language}': {names}", "", NOT_SAID)


def _warning(place: Place, what: str, hint: str, rule: str) -> Problem:
    return Problem(place.file, place.line, place.column, what, hint, rule)
