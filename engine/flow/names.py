"""The names a condition may use, and what stands behind each: a quantity or a choice."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field

from engine.flow.computed import COMPUTED
from engine.flow.model import Reading
from engine.flow.suggest import Hint, did_you_mean, listed, shown
from engine.physics.quantity import Kind

KEYWORDS = frozenset({"or", "and", "not", "known", "is"})
"""Words of the condition language; nothing else may be called so."""


class UnknownName(Exception):
    """No such name; `hint` says what may be meant. `broken`: it is there, but with errors of its own."""

    def __init__(self, message: str, hint: Hint = "", *, broken: bool = False) -> None:
        super().__init__(message)
        self.message, self.hint, self.broken = message, hint, broken


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a name holds: a quantity of `kind`, or one (`several`: more) of `choices`."""

    kind: Kind | None
    choices: tuple[str, ...] = ()
    several: bool = False


@dataclass(frozen=True, slots=True)
class NameTable:
    """Everything a flow declares that conditions can name.

    `recorded` are readings taken into some set and `asked` those asked for the job: they decide what an
    unprefixed name means in a watch rule. `timed` are the sets that have `settled`. `broken` names exist but
    could not be read; `whole` is false when a file is missing, `whole_steps` when a step could not be read,
    so that not finding a name proves nothing.
    """

    readings: Mapping[str, Reading]
    sets: Collection[str] = ()
    recorded: Collection[str] = ()
    asked: Collection[str] = ()
    timed: Collection[str] = ()
    broken: Collection[str] = field(default_factory=frozenset)
    whole: bool = True
    whole_steps: bool = True

    def meaning(self, name: str, *, in_set: bool = False) -> Meaning:
        """What `name` (`reading` or `set.reading`) holds; `in_set` (watch rules) allows set names alone.

        Raises UnknownName.
        """
        prefix, dot, last = name.rpartition(".")
        if not dot:
            return self._of_job(name, in_set)
        if prefix not in self.sets:
            raise self._unknown("set", prefix, lambda: self.sets)
        return self._of_set(last, prefix)

    def _of_set(self, last: str, prefix: str) -> Meaning:
        if last in self.readings:
            return _of_reading(self.readings[last])
        if last == "settled" and prefix not in self.timed:
            what, hint = f"set '{prefix}' has no 'settled'", "no step with 'settle' begins it"
            raise UnknownName(what, hint, broken=not (self.whole and self.whole_steps))
        computed = COMPUTED.get(last)
        if computed is not None and computed.scope == "set":
            return Meaning(computed.kind, tuple(computed.choices))
        raise self._unknown("reading", last, lambda: [*self.readings, *computed_names("set")])

    def _of_job(self, name: str, in_set: bool) -> Meaning:
        if name in self.readings:
            return _of_reading(self.readings[name])
        computed = COMPUTED.get(name)
        if computed is not None and (computed.scope == "job" or in_set):
            return Meaning(computed.kind, tuple(computed.choices))
        if computed is not None:
            meant = listed([f"{one}.{name}" for one in self.sets][:3] or [f"SET.{name}"])
            raise UnknownName(f"'{name}' belongs to a set", f"write it with its set, as in {meant}")
        if name in self.sets:
            raise UnknownName(f"'{name}' is a set", f"name a reading of it, as in {name}.low_side")
        of_set = computed_names("set") if in_set else []
        raise self._unknown("reading", name, lambda: [*self.readings, *computed_names("job"), *of_set])

    def _unknown(self, what: str, name: str, options: Callable[[], Iterable[str]]) -> UnknownName:
        broken = not self.whole or name in self.broken
        return UnknownName(
            f"unknown {what} {shown(name)}", lambda: did_you_mean(name, options()), broken=broken
        )

    def belongs_to_set(self, name: str) -> bool:
        """An unprefixed name of a watch rule can mean the set being taken."""
        computed = COMPUTED.get(name)
        return name in self.recorded or (
            name not in self.readings and computed is not None and computed.scope == "set"
        )

    def belongs_to_job(self, name: str) -> bool:
        """An unprefixed name can mean the job."""
        return name in self.asked or not self.belongs_to_set(name)


def computed_names(scope: str) -> list[str]:
    """Names of COMPUTED of one scope, `set` or `job`."""
    return [name for name, computed in COMPUTED.items() if computed.scope == scope]


def _of_reading(reading: Reading) -> Meaning:
    return Meaning(reading.kind, tuple(choice.word for choice in reading.choices), reading.several)
