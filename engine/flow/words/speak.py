"""A loaded flow with its texts said in another language. Only texts change: no name, condition or way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from engine.flow.model import Caution, Finding, Flow, Next, Reading, SetState, Step
from engine.flow.words.sidecar import Words
from engine.flow.words.texts import BECAUSE, Key

UNREVIEWED = "not reviewed"


@dataclass(frozen=True, slots=True)
class Spoken:
    """Words for one flow, those of its parts among them. Reasons of rules go by the text they stand for."""

    language: str
    said: Mapping[Key, str]
    reviewed: frozenset[str]
    settled: str  # the flow's own text for timed steps that have none
    reasons: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def say(self, own: str, *key: str | int) -> str:
        """The text at that place, else the flow's own."""
        return self.said.get(key, own) if own else own

    def list(self, own: Iterable[str], *key: str | int) -> tuple[str, ...]:
        return tuple(self.say(text, *key, number) for number, text in enumerate(own))


def together(language: str, found: Iterable[tuple[Words, Mapping[Key, str]]], settled: str) -> Spoken | None:
    """The words of all files of a flow, each with the file's own texts; None if there are none."""
    said: dict[Key, str] = {}
    reasons: dict[tuple[str, str], str] = {}
    reviewed: set[str] = set()
    for words, own in found:
        said |= words.said
        reviewed |= words.reviewed
        for key, text in words.said.items():
            if len(key) == 4 and key[0] == "steps" and key[2] == BECAUSE:
                reasons[str(key[1]), own[key]] = text
    return Spoken(language, said, frozenset(reviewed), settled, reasons) if said else None


def spoken(flow: Flow, words: Spoken) -> Flow:
    """The flow in other words, the flow's own where there are none."""
    return replace(
        flow,
        title=words.say(flow.title, "title"),
        about=words.say(flow.about, "about"),
        readings={name: _reading(one, words) for name, one in flow.readings.items()},
        sets={name: _set(one, words) for name, one in flow.sets.items()},
        cautions={name: _caution(one, words) for name, one in flow.cautions.items()},
        watch=tuple(
            replace(one, because=words.say(one.because, "watch", one.name, BECAUSE)) for one in flow.watch
        ),
        steps={name: _step(one, words) for name, one in flow.steps.items()},
        signs={
            name: replace(one, says=words.say(one.says, "signs", name, "says"))
            for name, one in flow.signs.items()
        },
        findings={name: _finding(one, words) for name, one in flow.findings.items()},
        language=words.language,
    )


def _reading(one: Reading, words: Spoken) -> Reading:
    key = ("readings", one.name)
    choices = tuple(
        replace(choice, label=words.say(choice.label, *key, "choices", choice.word)) for choice in one.choices
    )
    return replace(
        one,
        label=words.say(one.label, *key, "label"),
        choices=choices,
        how=words.say(one.how, *key, "how"),
        unknown_hint=words.say(one.unknown_hint, *key, "unknown"),
    )


def _set(one: SetState, words: Spoken) -> SetState:
    key = ("sets", one.name)
    return replace(one, label=words.say(one.label, *key, "label"), fixed=words.list(one.fixed, *key, "fixed"))


def _caution(one: Caution, words: Spoken) -> Caution:
    """Words that nobody stood for are shown behind the original: a wrong caution is a hazard."""
    text = words.said.get(("cautions", one.id, "text"))
    if text is None:
        return one
    if one.id in words.reviewed:
        return replace(one, text=text)
    return replace(one, text=f"{one.text} ({words.language}, {UNREVIEWED}: {text})")


def _step(one: Step, words: Spoken) -> Step:
    key = ("steps", one.id)
    is_common = one.settled == words.settled and (*key, "settled") not in words.said
    settled = words.say(one.settled, "settled") if is_common else words.say(one.settled, *key, "settled")
    return replace(
        one,
        title=words.say(one.title, *key, "title"),
        do=words.say(one.do, *key, "do"),
        why=words.say(one.why, *key, "why"),
        how=words.list(one.how, *key, "how"),
        settled=settled,
        next=_next(one, one.next, words) if one.next is not None else None,
    )


def _next(step: Step, way: Next, words: Spoken) -> Next:
    rules = tuple(
        replace(rule, because=words.reasons.get((step.id, " ".join(rule.because.split())), rule.because))
        for rule in way.rules
    )
    return replace(way, rules=rules)


def _finding(one: Finding, words: Spoken) -> Finding:
    key = ("findings", one.id)
    rivals = {name: words.say(text, *key, "rivals", name) for name, text in one.rivals.items()}
    return replace(
        one,
        title=words.say(one.title, *key, "title"),
        means=words.say(one.means, *key, "means"),
        rivals=rivals,
        confirm=words.list(one.confirm, *key, "confirm"),
        repair=words.list(one.repair, *key, "repair"),
        verify=words.list(one.verify, *key, "verify"),
        note=words.say(one.note, *key, "note"),
    )
