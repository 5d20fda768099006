"""Readings of the job taken on the solenoid's circuit pin by pin: at the open plug, and by volts lost.

The model has all of a circuit's extra resistance before the coil, and loses the feed of either kind of drive;
a return that is lost alone is not drawn. Which of module and wire holds a coil on it does not say.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from engine.vehicle.bench import Bench, Measured, Told

__all__ = ["JOB_CIRCUIT"]

Rule = Callable[[Bench], Told]

_IDENTIFIED = 0.5  # chance that pins are known without the maker's data; our assumption
_RETURN_OHM = (0.05, 0.3)  # of a sound return with its pins; our assumption
_LAMP_OHM = 12.0**2 / 5.0  # a test lamp of 5 W
_GROUND_SHARE = 0.3  # of a sound circuit's wiring that lies behind the coil; our assumption


def _side(bench: Bench) -> str:
    return bench.vehicle.electrics.switched_side


def _identified(bench: Bench) -> Told:
    return "yes" if bench.shop.service_data or bench.happens("pins", _IDENTIFIED) else "no"


def _feed(bench: Bench) -> Told:
    """Steady on a ground-switched solenoid; on the other the feed is the module's own output.

    The lamp beside the meter draws what a resistance of tens of ohms does not let pass.
    """
    if _side(bench) != "ground":
        return None
    open_volts = bench.state(bench.resting).supply_volts
    return Measured("voltmeter", open_volts * _LAMP_OHM / (_LAMP_OHM + bench.effects.circuit_ohm))


def _return_ohm(bench: Bench) -> Told:
    return Measured("ohmmeter", bench.chance("return").uniform(*_RETURN_OHM))


def _held(bench: Bench) -> Told:
    """Only a driver or wire that holds the coil on shows at the open plug with the A/C off."""
    state = bench.state(bench.resting)
    return Measured("voltmeter", bench.vehicle.electrics.battery_v if state.duty > 0.0 else 0.0)


def _battery(bench: Bench) -> Told:
    return Measured("voltmeter", bench.vehicle.electrics.supply_v)


def _feed_drop(bench: Bench) -> Told:
    if _side(bench) != "ground":
        return None
    lost = bench.vehicle.electrics.supply_v - bench.state(bench.raised).supply_volts
    return Measured("voltmeter", max(lost, 0.0))


def _return_drop(bench: Bench) -> Told:
    if _side(bench) != "supply":
        return None
    current = bench.state(bench.raised).current
    return Measured("voltmeter", current * bench.vehicle.electrics.wiring_ohm * _GROUND_SHARE)


JOB_CIRCUIT: Mapping[str, Rule] = MappingProxyType(
    {
        "orange_cables": lambda _: "none",
        "pins_identified": _identified,
        "plug_feed_volts": _feed,
        "plug_return_ohms": _return_ohm,
        "plug_volts_ac_off": _held,
        "battery_running": _battery,
        "feed_drop": _feed_drop,
        "return_drop": _return_drop,
    }
)
