"""Conclusions and answers as plain dicts that JSON can hold, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from engine.flow.model import Value
from engine.job.state import Answer, Conclusion, NextMeasurement, Ranked, RuledOut, Spoken


def conclusion_to_plain(conclusion: Conclusion) -> dict[str, Any]:
    """The whole conclusion as JSON types; keys are the field names, `for_` written `for`."""
    parting = conclusion.next_measurement
    return {
        "finding": conclusion.finding,
        "step": conclusion.step,
        "proved_by": conclusion.proved_by,
        "ranked": [_ranked_to_plain(one) for one in conclusion.ranked],
        "ruled_out": [_out_to_plain(one) for one in conclusion.ruled_out],
        "also": conclusion.also,
        "also_for": [_spoken_to_plain(one) for one in conclusion.also_for],
        "outside": conclusion.outside,
        "next_measurement": parting and {"reading": parting.reading, "separates": list(parting.separates)},
        "interrupted": conclusion.interrupted,
        "held_back": conclusion.held_back and _out_to_plain(conclusion.held_back),
    }


def conclusion_from_plain(plain: Mapping[str, Any]) -> Conclusion:
    """The inverse of `conclusion_to_plain`. Raises ValueError if it is not such a dict."""
    try:
        parting = plain["next_measurement"]
        return Conclusion(
            finding=plain["finding"],
            step=plain["step"],
            proved_by=plain["proved_by"],
            ranked=tuple(_ranked_from_plain(one) for one in plain["ranked"]),
            ruled_out=tuple(RuledOut(**one) for one in plain["ruled_out"]),
            also=plain["also"],
            also_for=tuple(Spoken(**one) for one in plain.get("also_for", ())),
            outside=plain["outside"],
            next_measurement=parting and _parting_from_plain(parting),
            interrupted=plain["interrupted"],
            # jobs kept before there was such a thing do not have it, nor `also_for`
            held_back=RuledOut(**plain["held_back"]) if plain.get("held_back") else None,
        )
    except (KeyError, TypeError) as error:
        raise ValueError(f"This is no conclusion as a job keeps it: {error!r}.") from error


def _out_to_plain(one: RuledOut) -> dict[str, str]:
    return {"finding": one.finding, "step": one.step, "because": one.because}


def _ranked_to_plain(ranked: Ranked) -> dict[str, Any]:
    return {
        "finding": ranked.finding,
        "probability": ranked.probability,
        "for": [_spoken_to_plain(one) for one in ranked.for_],
        "against": [_spoken_to_plain(one) for one in ranked.against],
    }


def _ranked_from_plain(plain: Mapping[str, Any]) -> Ranked:
    return Ranked(
        plain["finding"],
        plain["probability"],
        for_=tuple(Spoken(**one) for one in plain["for"]),
        against=tuple(Spoken(**one) for one in plain["against"]),
    )


def _spoken_to_plain(spoken: Spoken) -> dict[str, Any]:
    return {"sign": spoken.sign, "says": spoken.says, "odds": spoken.odds}


def _parting_from_plain(plain: Mapping[str, Any]) -> NextMeasurement:
    first, second = plain["separates"]
    return NextMeasurement(plain["reading"], (first, second))


def answer_to_plain(answer: Answer) -> dict[str, Any]:
    """The answer as JSON types: the key as a list, several words as a sorted list, the time in ISO 8601."""
    return {
        "kind": answer.kind,
        "key": list(answer.key),
        "value": sorted(answer.value) if isinstance(answer.value, frozenset) else answer.value,
        "text": answer.text,
        "unit": answer.unit,
        "at": answer.at.isoformat() if answer.at else None,
        "detail": dict(answer.detail),
    }


def answer_from_plain(plain: Mapping[str, Any]) -> Answer:
    """The inverse of `answer_to_plain`. Raises ValueError if it is not such a dict."""
    try:
        step, visit, item = plain["key"]
        at = plain["at"]
        return Answer(
            plain["kind"],
            (step, visit, item),
            _value_from_plain(plain["value"]),
            plain["text"],
            plain["unit"],
            datetime.fromisoformat(at) if at else None,
            dict(plain["detail"]),
        )
    except (KeyError, TypeError, ValueError) as error:
        raise ValueError(f"This is no answer as a job keeps it: {error!r}.") from error


def _value_from_plain(value: Any) -> Value | None:
    return frozenset(value) if isinstance(value, list) else value
