"""Kinds of quantity and their units: pure data and the conversion to and from SI.

Gauge pressure, absolute pressure and pressure difference are different kinds, and so are temperature and
temperature difference: only a temperature ever gets an offset, and gauge stays gauge inside (pascal above
the surrounding air). Parsing and showing text is `engine.physics.quantity`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType


class Kind(StrEnum):
    """What a number measures."""

    PRESSURE = "pressure"  # gauge
    ABSOLUTE_PRESSURE = "absolute_pressure"
    PRESSURE_DIFFERENCE = "pressure_difference"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature_difference"
    RATIO = "ratio"
    RATIO_DIFFERENCE = "ratio_difference"
    RESISTANCE = "resistance"
    VOLTAGE = "voltage"
    CURRENT = "current"
    FREQUENCY = "frequency"
    SPEED = "speed"  # of rotation
    MASS = "mass"
    LENGTH = "length"
    TIME = "time"
    HUMIDITY_RATIO = "humidity_ratio"  # derived only
    ENTHALPY = "enthalpy"  # derived only
    NUMBER = "number"  # derived only


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind: si = (number + shift) * times / over; `decimals` is the most worth showing.

    Two factors instead of one keep what people type exact: 41 percent is 0.41, not 0.41000000000000003.
    """

    name: str
    times: float = 1.0
    over: float = 1.0
    shift: float = 0.0
    decimals: int = 1
    also: tuple[str, ...] = ()  # other spellings, lower case, without spaces
    shown: bool = True  # offered for display; the others are understood when typed


# Factors: NIST SP 811 (2008), appendix B.8: psi, conventional inch of mercury, kgf/cm2, pound, ounce, foot.
ZERO_C = 273.15  # K at 0 degC, exact
PSI = 6894.757293168
_INHG = 3386.389
_KGF_CM2 = 98066.5
_POUND = 0.45359237

_PRESSURE = (
    Unit("psi", PSI, also=("psig", "lb/in2", "lbf/in2")),
    Unit("bar", 1e5, decimals=2, also=("barg",)),
    Unit("kPa", 1e3, decimals=0, also=("kpag",)),
    Unit("MPa", 1e6, decimals=3, also=("mpag",)),
    Unit("kgf/cm2", _KGF_CM2, decimals=2, also=("kg/cm2", "kgfcm2")),
)
_PASCAL = Unit("Pa", decimals=0, shown=False)
_VACUUM = Unit("inHg vac", -_INHG, also=("inhgvacuum", '"hgvac', "inhgv"))
_ABSOLUTE = (
    Unit("psia", PSI, also=("psiabs", "psiabsolute")),
    Unit("bara", 1e5, decimals=3, also=("barabs", "barabsolute")),
    Unit("kPaa", 1e3, decimals=1, also=("kpaabs", "kpaabsolute")),
    Unit("MPaa", 1e6, decimals=4, also=("mpaabs", "mpaabsolute")),
    # A barometer's units: nobody reads a service gauge in these.
    Unit("hPa", 100.0, decimals=1, also=("mbar", "hpaa", "mbara"), shown=False),
    Unit("inHg", _INHG, decimals=2, also=("inhgabs", "inhga", '"hg'), shown=False),
    Unit("Paa", decimals=0, also=("paabs", "paabsolute"), shown=False),
)
_CELSIUS_WORDS = ("c", "degc", "degreesc", "celsius", "degreescelsius")
_FAHRENHEIT_WORDS = ("f", "degf", "degreesf", "fahrenheit", "degreesfahrenheit")

_UNITS: Mapping[Kind, tuple[Unit, ...]] = MappingProxyType(
    {
        Kind.PRESSURE: (*_PRESSURE, _VACUUM, _PASCAL),
        Kind.ABSOLUTE_PRESSURE: _ABSOLUTE,
        Kind.PRESSURE_DIFFERENCE: (*_PRESSURE, _PASCAL),
        Kind.TEMPERATURE: (
            Unit("degC", shift=ZERO_C, also=_CELSIUS_WORDS),
            Unit("degF", 5.0, 9.0, shift=459.67, also=_FAHRENHEIT_WORDS),
            Unit("K", also=("kelvin",), shown=False, decimals=2),
        ),
        Kind.TEMPERATURE_DIFFERENCE: (
            Unit("K", also=("kelvin",)),
            Unit("degC", also=_CELSIUS_WORDS),
            Unit("degF", 5.0, 9.0, also=_FAHRENHEIT_WORDS),
        ),
        Kind.RATIO: (Unit("percent", over=100.0, also=("%", "pct")),),
        Kind.RATIO_DIFFERENCE: (Unit("points", over=100.0, also=("point", "pp", "percentagepoints")),),
        Kind.RESISTANCE: (
            Unit("ohm", decimals=2, also=("ohms", "ω")),
            Unit("kohm", 1e3, decimals=3, also=("kohms", "kω")),
            Unit("Mohm", 1e6, decimals=3, also=("mohms", "mω", "megohm", "megaohm")),
        ),
        Kind.VOLTAGE: (
            Unit("V", decimals=2, also=("volt", "volts", "vdc")),
            Unit("mV", over=1e3, decimals=0, also=("millivolts",), shown=False),
        ),
        Kind.CURRENT: (
            Unit("A", decimals=3, also=("amp", "amps", "ampere")),
            Unit("mA", over=1e3, decimals=0, also=("milliamps",)),
        ),
        Kind.FREQUENCY: (Unit("Hz", decimals=0, also=("hertz",)), Unit("kHz", 1e3, decimals=3, shown=False)),
        Kind.SPEED: (
            Unit("1/min", over=60.0, decimals=0, also=("rpm", "r/min", "rev/min", "min-1")),
            Unit("1/s", decimals=2, also=("rps",), shown=False),
        ),
        Kind.MASS: (
            Unit("kg", decimals=3),
            Unit("g", over=1e3, decimals=0, also=("gram", "grams")),
            Unit("oz", _POUND, 16.0, also=("ounce", "ounces")),
            Unit("lb", _POUND, decimals=2, also=("lbs", "pound", "pounds")),
        ),
        Kind.LENGTH: (
            Unit("m", decimals=0, also=("metre", "metres", "meter", "meters")),
            Unit("ft", 0.3048, decimals=0, also=("feet", "foot")),
        ),
        Kind.TIME: (
            Unit("s", decimals=0, also=("sec", "second", "seconds")),
            Unit("min", 60.0, also=("minute", "minutes")),
        ),
        Kind.HUMIDITY_RATIO: (Unit("g/kg", over=1e3),),
        Kind.ENTHALPY: (Unit("kJ/kg", 1e3),),
        Kind.NUMBER: (Unit("1", decimals=2),),
    }
)

SI_UNIT: Mapping[Kind, str] = MappingProxyType(
    {
        Kind.PRESSURE: "Pa",
        Kind.ABSOLUTE_PRESSURE: "Pa",
        Kind.PRESSURE_DIFFERENCE: "Pa",
        Kind.TEMPERATURE: "K",
        Kind.TEMPERATURE_DIFFERENCE: "K",
        Kind.RATIO: "1",
        Kind.RATIO_DIFFERENCE: "1",
        Kind.RESISTANCE: "ohm",
        Kind.VOLTAGE: "V",
        Kind.CURRENT: "A",
        Kind.FREQUENCY: "Hz",
        Kind.SPEED: "1/s",
        Kind.MASS: "kg",
        Kind.LENGTH: "m",
        Kind.TIME: "s",
        Kind.HUMIDITY_RATIO: "kg/kg",
        Kind.ENTHALPY: "J/kg",
        Kind.NUMBER: "1",
    }
)
"""Name of the SI unit that values of a kind are kept in (gauge: pascal above the surrounding air)."""

_DIFFERENCES = {
    Kind.PRESSURE: Kind.PRESSURE_DIFFERENCE,
    Kind.ABSOLUTE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
    Kind.TEMPERATURE: Kind.TEMPERATURE_DIFFERENCE,
    Kind.RATIO: Kind.RATIO_DIFFERENCE,
}

_NO_SPACES = str.maketrans({"°": "deg", "º": "deg", "˚": "deg", "℃": "degc", "℉": "degf", "²": "2"})


def difference_of(kind: Kind) -> Kind:
    """Kind of `a - b` for two values of `kind`: 5 degC minus 2 degC is a temperature difference of 3 K."""
    return _DIFFERENCES.get(kind, kind)


def units_of(kind: Kind) -> tuple[str, ...]:
    """Units offered for `kind`; the first is the default."""
    return tuple(unit.name for unit in _UNITS[kind] if unit.shown)


def spelling(text: str) -> str:
    """A unit as typed, without spaces, degree signs written out, lower case: `° F` becomes `degf`."""
    return "".join(text.split()).translate(_NO_SPACES).casefold()


@cache
def _spellings(kind: Kind) -> dict[str, Unit]:
    return {word: unit for unit in _UNITS[kind] for word in (spelling(unit.name), *unit.also)}


def find_unit(text: str, kind: Kind) -> Unit | None:
    """The unit of `kind` that `text` spells, or None."""
    return _spellings(kind).get(spelling(text))


def canonical_unit(text: str, kind: Kind) -> str | None:
    """Our name for the unit that `text` spells (`°F` gives `degF`), or None if `kind` has no such unit."""
    unit = find_unit(text, kind)
    return unit.name if unit else None


def require_unit(name: str, kind: Kind) -> Unit:
    """The unit called `name`. Raises ValueError: a unit in our code or in a checked flow is never wrong."""
    unit = find_unit(name, kind)
    if unit is None:
        raise ValueError(f"{name!r} is no unit of {kind}; use one of {', '.join(units_of(kind))}")
    return unit


def to_si(number: float, unit: str, kind: Kind) -> float:
    """`number` of `unit` in SI. Raises ValueError if `unit` is no unit of `kind`.

    >>> to_si(50, "degF", Kind.TEMPERATURE), to_si(36, "degF", Kind.TEMPERATURE_DIFFERENCE)
    (283.15, 20.0)
    """
    found = require_unit(unit, kind)
    return (number + found.shift) * found.times / found.over + 0.0  # + 0.0 makes -0.0 plain zero


def from_si(si: float, unit: str, kind: Kind) -> float:
    """An SI value in `unit`, the inverse of `to_si`. Raises ValueError if `unit` is no unit of `kind`."""
    found = require_unit(unit, kind)
    return si * found.over / found.times - found.shift + 0.0
