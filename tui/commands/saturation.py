"""`loadstep saturation`: dew and bubble point of a refrigerant at a pressure or temperature."""

from __future__ import annotations

import difflib
import json
from argparse import Namespace
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.physics.atmosphere import SEA_LEVEL_PA, AtmosphereError, pressure_at_elevation
from engine.physics.property_table import REFRIGERANTS
from engine.physics.quantity import Kind, Parsed, QuantityError, check_possible, parse, parse_any, show
from tui.commands.exit_codes import GOOD
from tui.commands.output import say
from tui.commands.refusal import Refusal

if TYPE_CHECKING:
    from tui.commands.precise import Point, Saturation


@dataclass(frozen=True, slots=True)
class State:
    """What is printed: dew and bubble point at what was given, and the surrounding air in Pa absolute."""

    refrigerant: str
    given: Parsed
    dew: Point
    bubble: Point
    atmosphere: float


def run(args: Namespace) -> int:
    refrigerant = _refrigerant(args.refrigerant)
    atmosphere = _atmosphere(args.elevation)
    given = _given(args.given, atmosphere)
    state = _state(refrigerant, given, atmosphere)
    if args.json:
        say(json.dumps(_as_json(state)))
    else:
        _print(state)
    return GOOD


def _refrigerant(typed: str) -> str:
    """Our name for what was typed; `R134A`, `134a` and `r-134a` all say R-134a."""
    known = {_bare(name): name for name in REFRIGERANTS}
    found = known.get(_bare(typed))
    if found:
        return found
    near = difflib.get_close_matches(_bare(typed), known, n=1)
    hint = f"did you mean {known[near[0]]}?" if near else f"known are {', '.join(REFRIGERANTS)}."
    raise Refusal(f"there is no refrigerant {typed[:40]!r} here; {hint}")


def _bare(name: str) -> str:
    return name.casefold().replace(" ", "").replace("-", "").removeprefix("r")


def _atmosphere(elevation: str | None) -> float:
    """Pa absolute; sea level if no elevation is given."""
    if elevation is None:
        return SEA_LEVEL_PA
    try:
        return pressure_at_elevation(parse(elevation, Kind.LENGTH, "m").si)
    except (QuantityError, AtmosphereError) as error:
        raise Refusal(f"--elevation: {error}") from None


def _given(text: str, atmosphere: float) -> Parsed:
    try:
        given = parse_any(text)
    except QuantityError as error:
        raise Refusal(str(error)) from None
    if given.kind not in (Kind.PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.TEMPERATURE):
        raise Refusal(
            f'{text[:40]!r} is neither a pressure nor a temperature; give for instance "40 psi" or "10 degC".'
        )
    impossible = check_possible(given.si, given.kind, atmosphere)
    if impossible:
        raise Refusal(f"{text[:40]!r}: {impossible}")
    return given


def _state(refrigerant: str, given: Parsed, atmosphere: float) -> State:
    from tui.commands.precise import Saturation  # after what a person can get wrong was told: this is slow

    fluid = Saturation(refrigerant)
    if given.kind is Kind.TEMPERATURE:
        _check_temperature(refrigerant, fluid, given)
        dew, bubble = fluid.dew_at_temperature(given.si), fluid.bubble_at_temperature(given.si)
    else:
        pressure = given.si + (atmosphere if given.kind is Kind.PRESSURE else 0.0)
        _check_pressure(refrigerant, fluid, given, pressure, pressure - given.si)
        dew, bubble = fluid.dew_at_pressure(pressure), fluid.bubble_at_pressure(pressure)
    return State(refrigerant, given, dew, bubble, atmosphere)


def _check_temperature(refrigerant: str, fluid: Saturation, given: Parsed) -> None:
    span, unit = fluid.span, given.unit
    if given.si > span.high.temperature:
        limit = show(span.critical.temperature, Kind.TEMPERATURE, unit)
        raise Refusal(_above_critical(refrigerant, given.text, f"temperature, {limit}"))
    if given.si < span.low.temperature:
        limit = show(span.low.temperature, Kind.TEMPERATURE, unit)
        raise Refusal(_below_triple(refrigerant, given.text, f"temperature, {limit}"))


def _check_pressure(refrigerant: str, fluid: Saturation, given: Parsed, pressure: float, zero: float) -> None:
    """`pressure` is absolute; `zero` is the absolute pressure at which the reader's unit shows nought."""
    span, meaning = fluid.span, "gauge" if given.kind is Kind.PRESSURE else "absolute"
    if pressure > span.high.pressure:
        limit = show(span.critical.pressure - zero, given.kind, given.unit)
        raise Refusal(_above_critical(refrigerant, given.text, f"pressure, {limit} {meaning}"))
    if pressure < span.low.pressure:
        limit = show(span.low.pressure - zero, given.kind, given.unit)
        raise Refusal(_below_triple(refrigerant, given.text, f"pressure, {limit} {meaning}"))


def _above_critical(refrigerant: str, typed: str, limit: str) -> str:
    return (
        f"{refrigerant} has no dew or bubble point at {typed[:40]!r}: its critical {limit}, is the highest "
        "at which liquid and vapour can be told apart. Check the number, its unit and the refrigerant."
    )


def _below_triple(refrigerant: str, typed: str, limit: str) -> str:
    return (
        f"{refrigerant} has no dew or bubble point at {typed[:40]!r}: below its triple point's {limit}, "
        "there is no liquid. Check the number, its unit and the refrigerant."
    )


def _as_json(state: State) -> dict[str, object]:
    return {
        "refrigerant": state.refrigerant,
        "given": _value(state.given.number, state.given.unit),
        "dew": _point_as_json(state.dew, state.atmosphere),
        "bubble": _point_as_json(state.bubble, state.atmosphere),
        "atmosphere": _value(state.atmosphere, "Pa"),
    }


def _point_as_json(point: Point, atmosphere: float) -> dict[str, object]:
    return {
        "temperature": _value(point.temperature, "K"),
        "pressure_gauge": _value(point.pressure - atmosphere, "Pa"),
        "pressure_absolute": _value(point.pressure, "Pa"),
    }


def _value(number: float, unit: str) -> dict[str, object]:
    return {"value": number, "unit": unit}


def _print(state: State) -> None:
    air = state.atmosphere
    given = state.given
    say(f"{state.refrigerant} at {show(given.si, given.kind, given.unit)}{_meaning(given)}")
    for name, point in (("dew", state.dew), ("bubble", state.bubble)):
        temperatures = "  ".join(
            f"{show(point.temperature, Kind.TEMPERATURE, unit):>11}" for unit in ("degC", "degF")
        )
        gauge = "  ".join(f"{show(point.pressure - air, Kind.PRESSURE, unit):>9}" for unit in ("psi", "bar"))
        absolute = "  ".join(
            f"{show(point.pressure, Kind.ABSOLUTE_PRESSURE, unit):>11}" for unit in ("psia", "bara")
        )
        say(f"  {name:<7}{temperatures}   gauge {gauge}   absolute {absolute}")
    around = ", ".join(show(air, Kind.ABSOLUTE_PRESSURE, unit) for unit in ("psia", "bara"))
    say(f"  Gauge pressures stand over an atmosphere of {around}. --elevation sets another.")


def _meaning(given: Parsed) -> str:
    if given.kind is Kind.PRESSURE:
        return " gauge"
    return " absolute" if given.kind is Kind.ABSOLUTE_PRESSURE else ""
