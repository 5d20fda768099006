"""What the solenoid's ohms say, and the duty that is meant by what a meter displays."""

from __future__ import annotations

from engine.flow.computed.lookup import number, word
from engine.flow.model import Facts
from engine.physics import command, solenoid
from engine.physics.quantity import OVER_LIMIT_OHM


def solenoid_resistance_20(facts: Facts) -> float | None:
    """Resistance the coil would show at 20 degC, ohm; None without its temperature, and when open."""
    reading = number(facts, "solenoid_resistance")
    if reading is None or reading >= OVER_LIMIT_OHM:
        return None
    return solenoid.resistance_at_20(
        reading, number(facts, "coil_temperature"), number(facts, "lead_resistance")
    )


def solenoid_class(facts: Facts) -> str | None:
    """What was measured at the compressor; None if nothing was."""
    return solenoid.solenoid_class(
        number(facts, "solenoid_resistance"),
        number(facts, "coil_temperature"),
        number(facts, "lead_resistance"),
        number(facts, "solenoid_to_case"),
        word(facts, "rear_connector"),
    )


def duty(facts: Facts, set_name: str) -> float | None:
    """Commanded share of on-time, 0 to 1, from the displayed one; None if it cannot be told.

    Leads, edge and side must be known, or the display noted with A/C off and at coldest demand. Facts ask
    this only where no duty was given: a given one is the command already.
    """
    return command.commanded_duty(
        number(facts, f"{set_name}.duty_displayed"),
        word(facts, "meter_leads"),
        word(facts, "meter_edge"),
        word(facts, "switched_side"),
        command.moves_like_on_share(number(facts, "display_ac_off"), number(facts, "display_max_cold")),
    )


def duty_gap(facts: Facts, set_name: str) -> float | None:
    """Given duty less the one the display means, ratio; over 3 points one of the two is wrong."""
    given, displayed = number(facts, f"{set_name}.duty"), duty(facts, set_name)
    return None if given is None or displayed is None else given - displayed


def estimated_current(facts: Facts, set_name: str) -> float | None:
    """Current the duty would drive, A: an estimate, ignoring diode and heat; None where one was measured."""
    reading, lead = number(facts, "solenoid_resistance"), number(facts, "lead_resistance") or 0.0
    current = command.solenoid_current(
        number(facts, f"{set_name}.solenoid_current"),
        number(facts, f"{set_name}.duty"),
        number(facts, "solenoid_supply"),
        None if reading is None or reading >= OVER_LIMIT_OHM else reading - lead,
    )
    return current.value if current is not None and current.estimated else None


def volts_missing(facts: Facts, set_name: str) -> float | None:
    """Mean volts that the duty would put across the coil from this battery, less those measured there, V.

    The coil gets battery volts for the share of on-time whichever side is switched; what is missing was lost
    in feed, driver or return. Good to about a volt (duty 3 points, the diode's own drop).
    """
    share, battery = number(facts, f"{set_name}.duty"), number(facts, "battery_running")
    across = number(facts, f"{set_name}.mean_volts")
    return None if share is None or battery is None or across is None else share * battery - across


def duty_by_mean_volts(facts: Facts) -> float | None:
    """On-time of the valve, 0 to 1, from the mean volts across the coil at coldest demand.

    Across the coil (red on its supply end) the mean is the on-share whichever side is switched.
    """
    return command.mean_volts_duty(
        number(facts, "mean_volts"), number(facts, "solenoid_supply"), "across-coil", "ground"
    )


def mean_volts_gap(facts: Facts) -> float | None:
    """Duty by mean volts less the one the display at coldest demand means by its connection, ratio.

    Mean volts are good to some 5 points; a large gap says that leads, edge or side are not as given.
    """
    by_volts = duty_by_mean_volts(facts)
    displayed = command.commanded_duty(
        number(facts, "display_max_cold"),
        word(facts, "meter_leads"),
        word(facts, "meter_edge"),
        word(facts, "switched_side"),
    )
    return None if by_volts is None or displayed is None else by_volts - displayed


def drive_class(facts: Facts) -> str | None:
    """`usual`, or `suspect-wire` where the frequency is far outside what drives stroke valves."""
    frequency = number(facts, "solenoid_frequency")
    return None if frequency is None else solenoid.drive_frequency_class(frequency)
