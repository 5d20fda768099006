"""A checked flow, as plain frozen dataclasses.

The loader (`engine.flow.load`) makes these from YAML; the walk, the screens and the sheet read them.
Nothing here imports pydantic or yaml, so that holding a flow costs no more than the flow. All numbers
are SI: pascal (gauge stays gauge), kelvin, ratio 0..1, ohm, volt, ampere, hertz, 1/s, kilogram, metre,
second.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

from engine.physics.quantity import Kind

Value = float | str | frozenset[str]
"""What a reading can hold: an SI number, one choice, or several choices."""

LOADS = ("rest", "moderate", "raised", "lowered")
"""Heat load of a set: engine off, as found on a mild demand, raised, lowered."""

SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")

ITEM_CAUTIONS, ITEM_BEGIN, ITEM_SETTLE, ITEM_DONE = "(cautions)", "(begin)", "(settle)", "(done)"
"""Prompts of a step that are not readings; a reading's item is its name."""


INCONCLUSIVE = "inconclusive"
"""The finding that a ranking settles nothing."""

RESUME = "resume"
"""As a target of `next`: back to the step that a watch rule interrupted. No step is called so."""


class Facts(Protocol):
    """Anything a condition can look a name up in; None means unknown."""

    def get(self, name: str, /) -> Value | None: ...


class Condition(Protocol):
    """A parsed condition. `names` are full names (`reading` or `set.reading`), in order of first use."""

    @property
    def text(self) -> str: ...

    @property
    def names(self) -> tuple[str, ...]: ...

    @property
    def guarded(self) -> frozenset[str]:
        """Names that stand under `known` somewhere in it, and so may be unknown."""
        ...

    def evaluate(self, facts: Facts, current_set: str | None = None) -> bool | None:
        """True, False, or None for unknown (Kleene). `current_set` is what unprefixed set names mean."""
        ...


@dataclass(frozen=True, slots=True)
class Choice:
    word: str
    label: str


@dataclass(frozen=True, slots=True)
class Range:
    """Closed range in SI."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Reading:
    """A named value. Either `kind` (a quantity) or `choices` is set."""

    name: str
    label: str
    kind: Kind | None = None
    unit: str = ""  # what a bare number means in the flow and in replay files
    choices: tuple[Choice, ...] = ()
    several: bool = False  # more than one choice may be given
    alone: str | None = None  # the choice that excludes the others (`none`)
    plausible: Range | None = None  # outside: accepted and listed
    possible: Range | None = None  # outside: refused (beside what physics refuses)
    how: str = ""  # how to take it
    unknown_hint: str = ""  # what "cannot measure" costs
    ask_if: Condition | None = None  # not asked where this is false


@dataclass(frozen=True, slots=True)
class SetState:
    """Readings taken together in one settled state."""

    name: str
    label: str
    load: str  # one of LOADS
    fixed: tuple[str, ...] = ()  # the fixed conditions, one sentence each
    speed: float | None = None  # 1/s, assumed for bands where engine_speed was not recorded
    compare_with: str | None = None  # the set that arrows and predictions refer to
    predict: tuple[str, ...] = ()  # readings a learner predicts before the entry
    read_after: float | None = None  # seconds; filled by replay only


@dataclass(frozen=True, slots=True)
class Caution:
    id: str
    signal: str  # one of SIGNALS
    text: str
    source: str
    exposure: str | None = None  # every step with this exposure shows it


@dataclass(frozen=True, slots=True)
class Rule:
    """One entry of `next`. Without `go` it only rules out or holds back, and the next rule is tried.

    What is ruled out takes no part any more. What is held back is ranked, but not told as the finding.
    """

    when: Condition
    go: str | None
    rule_out: tuple[str, ...] = ()
    because: str = ""
    hold_back: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Next:
    """Where a step leads: the first true rule; else `unknown` if any rule was unknown; else `otherwise`."""

    rules: tuple[Rule, ...]
    unknown: str | None
    otherwise: str | None


@dataclass(frozen=True, slots=True)
class Watch:
    """Checked after every value entered into a set; fires once, then leads to `again`.

    An unprefixed set reading means the set being taken.
    """

    name: str
    when: Condition
    go: str
    because: str
    again: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do or look at.

    A step without `do`, `ask`, `record` and `conclude` is a junction: it asks nothing, it only decides.
    Prompts of a visit, in order: cautions, begin and settle (if `settle`), `ask`, `record`, or done.
    """

    id: str
    title: str
    do: str = ""
    why: str = ""
    how: tuple[str, ...] = ()
    exposure: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()  # ids, those of `exposure` included, DANGER first
    set: str | None = None
    settle: float | None = None  # seconds; a step with settle begins its set anew
    settled: str = ""  # what settled means here
    ask: tuple[str, ...] = ()  # readings of the job
    record: tuple[str, ...] = ()  # readings taken into `set`
    for_: tuple[str, ...] = ()  # skipped when at most one of these is still alive
    skip_to: str | None = None
    at_most: int | None = None  # the visit after this many leads to `then`
    then: str | None = None
    next: Next | None = None
    conclude: tuple[str, ...] = ()  # candidates; closes the asking
    proved: str | None = None  # concluded by one direct test, no probability
    measure_first: str | None = None  # full name: without it no other measurement may be advised here
    ranks_only: bool = False  # nothing may be concluded here, however the ranking comes out
    end: bool = False
    resume: bool = False  # goes back to the step that a watch rule interrupted, as a new visit
    hand_over: str | None = None  # the flow that the job goes on with
    carry: tuple[str, ...] = ()  # readings of the job, and sets, that go along

    @property
    def is_junction(self) -> bool:
        return not (self.do or self.ask or self.record or self.concludes)

    @property
    def concludes(self) -> bool:
        return bool(self.conclude) or self.proved is not None


@dataclass(frozen=True, slots=True)
class Sign:
    """One condition with what it says; `weighs` maps finding -> (odds if true, odds if false).

    `beside` does the same for a second finding, told beside another; where no sign of a flow has it, what the
    first finding leaves over decides.
    `graded` is the name of the graded sign that this is one step of, empty for a sign of its own; `directed`
    are the findings for which its author gave a direction only. The odds of a `reasoned` one are never fitted
    to simulated vehicles.
    """

    name: str
    when: Condition
    says: str
    weighs: Mapping[str, tuple[float, float]]
    source: str = ""
    graded: str = ""
    directed: frozenset[str] = frozenset()
    reasoned: bool = False
    beside: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    @property
    def written_as(self) -> str:
        """The name that the flow file has for it."""
        return self.graded or self.name


@dataclass(frozen=True, slots=True)
class Finding:
    id: str
    title: str
    means: str
    prior: float = 1.0
    rivals: Mapping[str, str] = field(default_factory=dict)  # finding -> the cheapest test that separates
    confirm: tuple[str, ...] = ()
    repair: tuple[str, ...] = ()
    verify: tuple[str, ...] = ()
    note: str = ""
    same_as: str | None = None  # weighed as that finding; told instead of it when `told_when` is true
    told_when: Condition | None = None


@dataclass(frozen=True, slots=True)
class Limits:
    """When a ranking is a finding. `settled`, `alive` are probabilities; the others are odds."""

    settled: float = 0.6
    lead: float = 2.0
    outside: float = 20.0
    also: float = 10.0
    alive: float = 0.02


VEHICLES = ("solenoid", "internal", "fixed")
"""How the compressors of a flow's vehicles are controlled, as `vehicles:` in its head says; see `Flow`."""


@dataclass(frozen=True, slots=True)
class Flow:
    name: str
    revision: int
    title: str
    about: str
    start: str
    readings: Mapping[str, Reading]
    sets: Mapping[str, SetState]
    cautions: Mapping[str, Caution]
    watch: tuple[Watch, ...]
    steps: Mapping[str, Step]
    signs: Mapping[str, Sign]
    findings: Mapping[str, Finding]
    limits: Limits
    hash: str  # sha256 over the resolved bundle of files
    language: str = ""  # what its texts are said in; empty: as the flow was written
    hand_overs: Mapping[str, Flow] = field(default_factory=dict)  # flows handed over to, by name
    beside: Mapping[str, Mapping[str, float]] = field(default_factory=dict)  # told first -> second -> odds
    verification: str | None = None  # the flow a linked job after the repair starts with (own name if None)
    vehicles: str = "solenoid"  # one of VEHICLES: what a trial tries it on

    def full_name(self, step: str, item: str) -> str:
        """The fact that an item of a step is kept as: `loaded.low_side`, or the bare name."""
        found = self.steps.get(step)
        return f"{found.set}.{item}" if found and found.set and item in found.record else item
