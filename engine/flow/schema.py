"""The shapes of a flow file's parts, as strict models. What names mean and where steps lead is checked later.

The sentence under each key says what it is for; `engine.flow.json_schema` reads it here and hands it on to
editors (pydantic could too, but every start of the program would pay for it).
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag

from engine.flow.scalars import Flag, Load, Name, Odds, Positive, Prior, Signal, Text, Vehicles, Whole
from engine.physics.quantity import Kind, units_of

DERIVED_ONLY = (Kind.HUMIDITY_RATIO, Kind.ENTHALPY, Kind.NUMBER)
"""Quantities that are computed and never read."""

QUANTITIES = tuple(kind for kind in Kind if kind not in DERIVED_ONLY)
"""What a reading can be."""

_UNITS = sorted({unit for kind in QUANTITIES for unit in units_of(kind)})


def _shape(value: Any) -> str:
    return "<list>" if isinstance(value, list) else "<text>"


def _use_shape(value: Any) -> str:
    return "<mapping>" if isinstance(value, dict) else "<text>"


def _together(shape: dict[str, Any]) -> ConfigDict:
    """Tells editors which keys go together; our own words on it come from where the parts are built."""
    return ConfigDict(json_schema_extra=shape)


class Part(BaseModel):
    """What all models share: unknown keys are errors, nothing is converted behind the author's back."""

    model_config = ConfigDict(extra="forbid", strict=True, defer_build=True)


class LimitsPart(Part):
    """When a ranking is a finding."""

    settled: Positive = 0.6
    """Probability that the best finding needs; below it the outcome is inconclusive."""
    lead: Positive = 2.0
    """Odds of the best finding against the second; below them the outcome is inconclusive."""
    outside: Positive = 20.0
    """Odds by which a finding that is no candidate must beat the best one to leave it inconclusive."""
    also: Positive = 10.0
    """Odds from which a second finding is named beside the first."""
    alive: Positive = 0.02
    """Probability below which a finding counts as no longer possible, for the `for` of steps."""


class UsePart(Part):
    """One part that a flow uses: where its run of steps leads on to, and which of its entries are taken."""

    part: Text
    """File of the part, relative to the folder of the flow."""
    exits: dict[Name, Name] = {}
    """Where each exit of the part's run of steps leads on to in this flow."""
    only: list[Name] = []
    """Names taken from the part; all if left out."""


class RunPart(Part):
    """What a part with `steps` says of them: where one comes in, and the names by which they lead on."""

    start: Name
    """Step by which one comes into the run."""
    exits: dict[Name, Text] = {}
    """Names by which the run leads on, each with a sentence on when."""


class WaiverPart(Part):
    """One warning of `loadstep lint` that the author has seen and means to keep."""

    rule: Text
    """Name of the rule, as `loadstep lint --rules` lists it."""
    at: Text
    """What the warning concerns: a step, sign, reading, set, caution, finding or watch rule, by its name."""
    because: Text
    """Why the flow is right as it stands."""


class Waived(Part):
    """What a file says of its warnings."""

    waive: list[WaiverPart] = []
    """Warnings of `loadstep lint` that the author has seen and means to keep, each with a reason."""


class Head(Waived):
    """The flow itself, without its sections."""

    format: Whole = Field(json_schema_extra={"const": 1})
    """Format of flow files; there is 1."""
    flow: Name
    """Name of the flow, the same as the file's without .yaml."""
    revision: Whole
    """Number of this revision; raise it when the flow asks, tells or concludes otherwise."""
    title: Text
    """What a person chooses the flow by: the question it answers."""
    about: Text
    """What the flow is for, when it is the right one, and what it needs, in a paragraph."""
    start: Name
    """Step with which the walk begins."""
    use: list[
        Annotated[
            Annotated[Text, Tag("<text>")] | Annotated[UsePart, Tag("<mapping>")], Discriminator(_use_shape)
        ]
    ] = []
    """Parts: files below the flow's folder with shared readings, cautions, findings, sets, signs or steps."""
    settled: Text = Field(default="", validate_default=False)
    """What settled means, said at each step with a settle time that does not say it itself."""
    limits: LimitsPart = LimitsPart()
    """Probabilities and odds from which a ranking is a finding, where they differ from the usual ones."""
    beside: dict[Name, dict[Name, Odds]] = {}
    """For a finding told first, the odds it puts on others as a second one: below 1 it explains what speaks
    for them, above 1 it hides them. Times the odds that the signs have in `beside`."""
    verification: Name | None = None
    """Flow that the job after the repair begins with; this one if left out."""
    vehicles: Vehicles = "solenoid"
    """Compressors that the flow is for, and that a trial draws: solenoid (variable stroke by a solenoid
    valve), internal (variable stroke by its own valve) or fixed (fixed stroke, cycled by its clutch)."""


class ReadingPart(Part):
    """A named value: a quantity with its unit, or choices. It can always be "cannot measure"."""

    model_config = _together({"oneOf": [{"required": ["quantity"]}, {"required": ["choices"]}]})

    label: Text
    """What the screen calls the reading."""
    quantity: Text | None = Field(default=None, json_schema_extra={"enum": [*QUANTITIES]})
    """Kind of quantity. Pressures are gauge; a difference has a quantity of its own."""
    unit: Text | None = Field(default=None, json_schema_extra={"examples": [*_UNITS]})
    """Unit that a bare number has in this flow and in replay files."""
    choices: dict[Name, Text] = {}
    """Words that conditions use, each with what the screen shows for it."""
    several: Flag = False
    """More than one choice may be given."""
    alone: Name | None = None
    """The choice that excludes all others, such as none."""
    plausible: Text | None = None
    """Usual range, such as `0 to 450 psi`; what lies outside is taken and pointed out."""
    possible: Text | None = None
    """Range outside of which a value is refused."""
    how: Text = Field(default="", validate_default=False)
    """How to take the reading, in one or two sentences."""
    unknown: Text = Field(default="", validate_default=False)
    """What is lost if it cannot be measured."""
    ask_if: Text | None = None
    """Condition: where it is false, the reading is not asked for."""


class SetPart(Part):
    """Readings taken together in one settled state."""

    label: Text
    """What the screen calls the set."""
    load: Load
    """Heat load on the evaporator in this state: rest (engine off), moderate, raised or lowered."""
    speed: Text | None = None
    """Engine speed assumed where none was recorded, such as `1500 1/min`."""
    fixed: list[Text] = []
    """Conditions that are kept while the set is read, one sentence each."""
    compare_with: Name | None = None
    """Set that arrows and predictions refer to."""
    predict: list[Name] = []
    """Readings that a learner says up, down or same for before they are taken."""


class CautionPart(Part):
    """A hazard, how it hurts and how to avoid it, with the source of the fact."""

    signal: Signal
    """DANGER will, WARNING could kill or maim, CAUTION could injure, NOTICE is about damage only."""
    text: Text
    """The hazard, what it does, and what to do."""
    source: Text
    """Where the fact stands; "common practice, no published source" where that is so."""
    exposure: Name | None = None
    """Every step with this exposure shows the caution."""


class WatchPart(Part):
    """A rule checked after every value entered into a set; it stops the step at once."""

    name: Name
    """Name of the rule."""
    when: Text
    """Condition; an unprefixed reading means the set being taken."""
    because: Text
    """Why the walk stops, as the person is told."""
    go: Name
    """Step that makes safe."""
    again: Name | None = None
    """Step if the rule comes true a second time; without it the rule fires only once."""


class RulePart(Part):
    """One entry of `next`; which keys go together is checked when the rules are built."""

    model_config = _together(
        {
            "anyOf": [
                {"required": ["when", "go"]},
                {"required": ["when", "rule_out", "because"]},
                {"required": ["when", "hold_back", "because"]},
                {"required": ["unknown"]},
                {"required": ["otherwise"]},
            ]
        }
    )

    when: Text | None = None
    """Condition; the first rule with a `go` whose condition is true decides."""
    go: Name | None = None
    """Step to go to, or `resume`."""
    rule_out: list[Name] = []
    """Findings that are out of question if the condition is true."""
    hold_back: list[Name] = []
    """Findings that may not be told if the condition is true, because what proves them was not shown; they
    are still ranked, so that nothing else wins by their absence."""
    because: Text = Field(default="", validate_default=False)
    """The reason, as trail and sheet tell it."""
    unknown: Name | None = None
    """Step if no rule is true and one could not be told for want of a reading."""
    otherwise: Name | None = None
    """Step if no rule is true."""


class StepPart(Part):
    """One thing to do or look at. Without do, ask, record and conclude it is a junction that only decides."""

    model_config = _together(
        {
            "anyOf": [{"required": [key]} for key in ("next", "conclude", "proved", "end", "hand_over")],
            "dependencies": {
                "for": ["skip_to"],
                "skip_to": ["for"],
                "at_most": ["then"],
                "then": ["at_most"],
                "record": ["set"],
                "set": ["record"],
                "settle": ["set"],
                "settled": ["settle"],
                "measure_first": ["conclude"],
                "ranks_only": ["conclude"],
                "carry": ["hand_over"],
            },
        }
    )

    title: Text
    """What the step is called, in a few words."""
    do: Text = Field(default="", validate_default=False)
    """What to do, as an instruction."""
    why: Text = Field(default="", validate_default=False)
    """Why it is done now."""
    how: list[Text] = []
    """How to do it, one sentence each."""
    exposure: list[Name] = []
    """What the person is exposed to; every caution of that exposure is shown before the step."""
    cautions: list[Name] = []
    """Further cautions to show before the step."""
    set: Name | None = None
    """Set that `record` is taken into."""
    settle: Text | None = None
    """Time to wait before reading, such as `3 min`; the set is begun anew."""
    settled: Text | None = None
    """What settled means at this step."""
    ask: list[Name] = []
    """Readings of the job to take, in order."""
    record: list[Name] = []
    """Readings to take into the set, in order."""
    for_: list[Name] = Field(default=[], alias="for")
    """Findings the step is for: it is passed over when at most one of them is still possible."""
    skip_to: Name | None = None
    """Step to go to where this one is passed over; goes with `for`."""
    at_most: Whole | None = None
    """Visits after which the walk goes to `then` instead. Every loop needs a step with it."""
    then: Name | None = None
    """Step to go to once `at_most` visits are spent."""
    next: (
        Annotated[
            Annotated[Name, Tag("<text>")] | Annotated[list[RulePart], Tag("<list>")],
            Discriminator(_shape),
        ]
        | None
    ) = None
    """Step that follows, `resume`, or a list of rules."""
    conclude: (
        Annotated[
            Annotated[Literal["all"], Tag("<text>")] | Annotated[list[Name], Tag("<list>")],
            Discriminator(_shape),
        ]
        | None
    ) = None
    """Ends the asking: `all`, or the list of findings to choose among."""
    proved: Name | None = None
    """Finding that this step settles by one direct test."""
    measure_first: Text | None = None
    """Reading without which no other measurement may be advised here."""
    ranks_only: Flag = False
    """Nothing may be concluded here: candidates are ranked, and the finding stays open."""
    end: Flag = False
    """The job ends with this step."""
    hand_over: Name | None = None
    """Flow that the job goes on with after this step."""
    carry: (
        Annotated[
            Annotated[Literal["all"], Tag("<text>")] | Annotated[list[Name], Tag("<list>")],
            Discriminator(_shape),
        ]
        | None
    ) = None
    """Readings and sets that the next flow need not ask again: `all` that are the same in both, or a list."""


WrittenOdds = Annotated[
    Annotated[Odds, Tag("<text>")] | Annotated[list[Odds], Tag("<list>")], Discriminator(_shape)
]


class SignPart(Part):
    """What a condition, or the size of a reading, says for and against findings."""

    model_config = _together(
        {
            "oneOf": [{"required": ["when"]}, {"required": ["reads", "at"]}],
            "dependencies": {"reads": ["at"], "at": ["reads"]},
        }
    )

    when: Text | None = None
    """Condition."""
    reads: Text | None = None
    """Instead of `when`: a reading or the difference of two, weighed by its size."""
    at: list[Text] = []
    """Values with their units, rising, that part the range of what is read into steps."""
    says: Text
    """What the sign tells, as evidence on the finding screen; with `reads`, what is read."""
    source: Text = Field(default="", validate_default=False)
    """Where that is known from."""
    reasoned: Flag = False
    """Its odds are reasoned and stay so: simulated vehicles cannot show them (who complains, say)."""
    weighs: dict[Name, WrittenOdds]
    """For each finding its odds if the condition is true, or `[odds if true, odds if false]`. With `reads`:
    an odds for each step, one more than `at` has values, or `rises` or `falls`."""
    beside: dict[Name, WrittenOdds] = {}
    """The same for a second finding: the odds that it is there too, beside another that was told first."""

    @property
    def tells_by(self) -> str:
        """A condition that names all it hangs on."""
        return self.when if self.when is not None else f"{self.reads} < {''.join(self.at[:1])}"


class FindingPart(Part):
    """What a flow can conclude."""

    model_config = _together({"dependencies": {"same_as": ["told_when"], "told_when": ["same_as"]}})

    title: Text
    """The finding in a few words."""
    means: Text
    """What it means for the vehicle."""
    prior: Prior = 1.0
    """How common it is against the others before anything is measured; 0 if it can only be proved."""
    rivals: dict[Name, Text] = {}
    """Findings it is taken for, each with the cheapest test that parts them."""
    confirm: list[Text] = []
    """How to confirm it before anything is replaced."""
    repair: list[Text] = []
    """What to do about it."""
    verify: list[Text] = []
    """How to see that the repair worked."""
    note: Text = Field(default="", validate_default=False)
    """What else the reader must know."""
    same_as: Name | None = None
    """Finding it is weighed as; goes with `told_when`."""
    told_when: Text | None = None
    """Condition under which it is told in place of `same_as`."""
