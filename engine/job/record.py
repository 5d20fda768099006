"""What an answer changes in the walk apart from where it goes, and which answers fit a prompt."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Reading, Value
from engine.job.changed import changed
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED, SKIPPED, Key
from engine.job.state import Answer, Shown
from engine.job.walk_state import Walk

_KINDS: Mapping[str, tuple[str, ...]] = {
    ITEM_CAUTIONS: (ACKNOWLEDGED,),
    ITEM_BEGIN: (SET_BEGUN, SKIPPED),
    ITEM_SETTLE: (SETTLED,),
    ITEM_DONE: (DONE, SKIPPED),
}
_READING_KINDS = (ANSWERED, CANNOT_MEASURE)


def refusal(walk: Walk, answer: Answer) -> str | None:
    """Why the answer does not fit the walk's prompt, as a sentence, or None if it does."""
    prompt = walk.prompt
    if prompt is None:
        return "The walk is finished; nothing is asked any more."
    if answer.key != prompt.key:
        return f"The answer is to {_words(answer.key)}, but {_words(prompt.key)} is asked."
    fitting = _KINDS.get(prompt.item, _READING_KINDS)
    if answer.kind not in fitting:
        return f"{_words(prompt.key)} is answered by {' or '.join(fitting)}, not by '{answer.kind}'."
    if answer.kind == SETTLED and not isinstance(answer.detail.get("kept"), bool):
        return f"{_words(prompt.key)} needs to be told whether the settle time was kept."
    reading = walk.reading
    if answer.kind == ANSWERED and reading is not None and not _holds(reading, answer.value):
        return f"{_words(prompt.key)} cannot be {answer.value!r}."
    return None


def _words(key: tuple[str, int, str]) -> str:
    step, visit, item = key
    return f"'{item}' of step '{step}', visit {visit},"


def _holds(reading: Reading, value: Value | None) -> bool:
    """Whether the reading can have that value: a finite number, one of its words, or some of them."""
    if reading.kind is not None:
        return isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value)
    words = {choice.word for choice in reading.choices}
    if reading.several:
        return isinstance(value, frozenset) and bool(value) and value <= words
    return isinstance(value, str) and value in words


def records(walk: Walk, answer: Answer) -> Walk:
    """The walk with the answer noted: as a fact, as cautions read, as a set begun."""
    if answer.kind in _READING_KINDS:
        return _with_reading(walk, answer)
    walk = changed(walk, answered=_answered(walk, answer))
    if answer.kind == ACKNOWLEDGED and walk.step is not None:
        return changed(walk, cautions=(*walk.cautions, Shown(walk.step.id, walk.step.cautions)))
    if answer.kind == SET_BEGUN and walk.current_set is not None:
        return _with_set_begun(walk, walk.current_set)
    if answer.kind == SETTLED and walk.current_set is not None:
        word = "yes" if answer.detail["kept"] else "no"
        return changed(walk, facts=walk.facts.with_value(f"{walk.current_set}.settled", word))
    return walk


def _answered(walk: Walk, answer: Answer) -> Mapping[Key, Answer]:
    return {**walk.answered, answer.key: answer}


def _with_reading(walk: Walk, answer: Answer) -> Walk:
    name = walk.full_name(answer.key[2])
    measured = answer.kind == ANSWERED
    unknown = tuple(other for other in walk.unknown if other != name)
    return changed(
        walk,
        answered=_answered(walk, answer),
        facts=walk.facts.with_value(name, answer.value if measured else None),
        asked=walk.asked | {name},
        carried=walk.carried - {name},
        unknown=unknown if measured else (*unknown, name),
    )


def _with_set_begun(walk: Walk, set_name: str) -> Walk:
    """A set begun anew keeps nothing of what was read in it before."""
    prefix = set_name + "."
    return changed(
        walk,
        facts=walk.facts.without_set(set_name),
        unknown=tuple(name for name in walk.unknown if not name.startswith(prefix)),
        carried=frozenset(name for name in walk.carried if not name.startswith(prefix)),
    )
