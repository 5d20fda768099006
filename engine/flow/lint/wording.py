"""Sentences that tell to do what nobody may be told, and words that a class does not want to read."""

from __future__ import annotations

import re
from collections.abc import Iterator

from engine.flow.lint.prose import Text, forbids, sentences
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.lint.words import Unwanted
from engine.flow.positions import Document
from engine.flow.problem import Place
from engine.flow.suggest import shown

_GAS = r"(refrigerant|charge|gas|vapou?r|system|circuit|hoses?|contents|R-\d+\w*|it|them)"
_SHORT_WAY = (
    r"(?:(?:the|all|any|some|its|your|this|that|a|of|rest|old|little|remaining|excess|residual)\s+){0,4}"
)
_AWAY = r"(?:(?:\w+\s+){0,2}(?:in)?to (?:the )?(?:open|air|atmosphere|outside|ground|sky|room)\b|out\b|off\b)"
_VENT = re.compile(
    rf"\b(?:vent(?:s|ed|ing)?|purg(?:e|es|ed|ing)|bleed(?:s|ing)?|dump(?:s|ed|ing)?)\s+(?:off |out |away )?"
    rf"{_SHORT_WAY}{_GAS}\b"
    rf"|\b(?:vent|purge|bleed) (?:it |them )?(?:in)?to (?:the )?(?:open|air|atmosphere)\b"
    rf"|\b(?:blow(?:s|ing)?|releas(?:e|es|ed|ing)|let(?:s|ting)?|discharg(?:e|es|ed|ing))\s+"
    rf"{_SHORT_WAY}{_GAS}\s+{_AWAY}"
    rf"|\b(?:blow|let)(?:s|ting|ing)? (?:out|off)\s+{_SHORT_WAY}{_GAS}\b",
    re.IGNORECASE,
)
_VENTING_STEMS = ("vent", "purg", "bleed", "dump", "blow", "releas", "let", "discharg")
_BYPASS = re.compile(
    r"\b(bridg(e|es|ed|ing)|jumper(s|ed|ing)?|bypass(es|ed|ing)?|defeat(s|ed|ing)?|overrid(e|es|ing)|"
    r"short(s|ed|ing)? (out|across|round|around)|wir(e|es|ed|ing) (round|around|across)|disabl(e|es|ed|ing)|"
    r"t(ie|ied|ying|ape|aped|aping)( down| shut)?|hold(s|ing)? shut)\s+(\S{1,30}\s+){0,6}?[\w-]{0,30}"
    r"(switch(es)?|cut-?outs?|cut-?offs?|relief|interlocks?|safet(y|ies)|pressure limiter)\b",
    re.IGNORECASE,
)
_DEVICE_STEMS = ("switch", "cut", "relief", "interlock", "safet", "limiter")
_INJURY = re.compile(
    r"\b(burns?|scalds?|frostbite|freez\w+ skin|injur\w+|hurts?|wounds?|kills?|fatal\w*|deadly|death|die|"
    r"shock|blind\w*|crush\w*|suffocat\w+|asphyxia\w*|poison\w*|toxic|maim\w*|lose (a|an) (eye|finger|hand)|"
    r"explod\w+|explosion)\b",
    re.IGNORECASE,
)


def vents(sentence: str) -> bool:
    """The sentence tells to let refrigerant out."""
    return _tells(_VENT, sentence)


def bypasses(sentence: str) -> bool:
    """The sentence tells to put a safety device out of action."""
    return _tells(_BYPASS, sentence)


def _tells(what: re.Pattern[str], sentence: str) -> bool:
    found = what.search(sentence)  # a 'never' before the first stands before all others too
    return found is not None and not forbids(sentence, found.start())


def _venting(linting: Linting) -> Iterator[Found]:
    for document, text, sentence in _telling(linting, _VENT, _VENTING_STEMS):
        what = f"{shown(sentence)} tells to let refrigerant out"
        yield _found(linting, document, text, sentence, what, "tell to recover it by machine")


def _bypassing(linting: Linting) -> Iterator[Found]:
    for document, text, sentence in _telling(linting, _BYPASS, _DEVICE_STEMS):
        what = f"{shown(sentence)} tells to put a safety device out of action"
        yield _found(linting, document, text, sentence, what, "tell to measure it instead")


def _telling(
    linting: Linting, what: re.Pattern[str], stems: tuple[str, ...]
) -> Iterator[tuple[Document, Text, str]]:
    """The sentences that tell to do what the pattern finds; no text without one of `stems` can hold one."""
    for document, text in linting.texts:
        small = text.words.lower()
        if any(stem in small for stem in stems) and text.is_prose and what.search(text.words):
            yield from ((document, text, one) for one in sentences(text.words) if _tells(what, one))


def _notice(linting: Linting) -> Iterator[Found]:
    for name, caution in linting.flow.cautions.items():
        found = _INJURY.search(caution.text)
        if caution.signal == "NOTICE" and found:
            what = f"caution '{name}' is a NOTICE and speaks of injury ({shown(found[0])})"
            hint = "use CAUTION, WARNING or DANGER, whichever the worst outcome asks for"
            yield Found(linting.entry("cautions", name).place("signal"), what, hint, (name,))


def _unwanted(linting: Linting) -> Iterator[Found]:
    if not linting.words:
        return
    unwanted = Unwanted(linting.words)
    for document, text in linting.texts:
        for word in unwanted.found(text.words):
            what = f"{shown(word)} is on the list of words not wanted"
            yield _found(linting, document, text, word, what, "use a trade word")


def _found(linting: Linting, document: Document, text: Text, words: str, what: str, hint: str) -> Found:
    offset = text.words.find(words)
    place: Place = document.place(*text.path, offset=offset if offset >= 0 else None)
    return Found(place, what, hint, (linting.name_at(text),))


TELLS_TO_VENT = Rule(
    "tells-to-vent",
    "Letting refrigerant out on purpose is unlawful in many places, and it can burn or suffocate.",
    "Tell to recover it with an approved machine; a sentence that forbids it says 'never' or 'not'.",
    _venting,
)
TELLS_TO_BYPASS = Rule(
    "tells-to-bypass",
    "A bridged switch or blocked relief device takes away what keeps the circuit from bursting.",
    "Tell to measure the device; a sentence that forbids it says 'never' or 'not'.",
    _bypassing,
)
NOTICE_FOR_INJURY = Rule(
    "notice-for-injury",
    "NOTICE is for practices that hurt nobody (ANSI Z535.4); under it a reader expects no danger to people.",
    "Use CAUTION for minor, WARNING for possible and DANGER for certain grave injury.",
    _notice,
)
UNWANTED_WORD = Rule(
    "unwanted-word",
    "The class has a list of words that its flows do without, such as brand names.",
    "Say it in a word of the trade, or take the word off the list.",
    _unwanted,
)
