"""What was asked of `loadstep trial`, read and refused."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Collection
from pathlib import Path

from engine.flow.library import MAIN_FLOW
from engine.flow.model import Flow
from engine.flow.suggest import did_you_mean, listed, shown
from engine.job.second import HEALTHY
from engine.physics.quantity import Kind, QuantityError, parse
from engine.vehicle.trial.case import Drawer, Range
from engine.vehicle.trial.plan import FIRST_TRAINING_SEED, Plan, PlanError
from engine.vehicle.trial.run import processors
from tui.commands.flow_named import flow_named
from tui.commands.refusal import Refusal
from tui.sheet_file import SheetFileError, chosen_path

_MOST_VEHICLES = 1_000_000
_MOST_JOBS = 256

_COLDEST_K, _HOTTEST_K = 278.15, 321.15  # the envelope of the vehicle (`engine.vehicle.situation`)


def chosen_plan(args: Namespace, given: Drawer | None) -> Plan:
    """Without a drawer `given`, the vehicles are the simulated ones that the flow is for. Raises Refusal."""
    name = args.flow or MAIN_FLOW
    flow = flow_named(name)
    drawer = given or _simulated(flow)
    try:
        return Plan(
            flow,
            drawer,
            _names("--fleet", args.fleet, drawer.fleets()) or drawer.fleets(),
            vehicles=_whole("--vehicles", args.vehicles, 1, _MOST_VEHICLES),
            seed=_whole("--seed", args.seed, 0, FIRST_TRAINING_SEED - 1),
            named=_names("--fault", args.fault, (HEALTHY, *drawer.faults())),
            severity=_severity(args.severity),
            ambient=_ambient(args.ambient) if args.ambient is not None else None,
            refrigerant=_refrigerant(args.refrigerant, drawer) if args.refrigerant is not None else None,
            pairs=args.pairs,
            skipped=_share("--skipped-readings", args.skipped_readings),
            flow_name=name,
        )
    except PlanError as error:
        raise Refusal(str(error)) from None


def _simulated(flow: Flow) -> Drawer:
    from engine.vehicle.trial.draw import FleetDrawer

    return FleetDrawer(flow.vehicles)


def chosen_jobs(args: Namespace) -> int:
    """How many processes. Raises Refusal."""
    return processors() if args.jobs is None else _whole("--jobs", args.jobs, 1, _MOST_JOBS)


def chosen_page(args: Namespace) -> Path | None:
    """Where the HTML page goes. Raises Refusal."""
    if args.out is None:
        return None
    try:
        path = chosen_path(args.out)
    except SheetFileError as error:
        raise Refusal(f"--out: {error}") from None
    if path.suffix.lower() != ".html":
        raise Refusal("--out: the page is HTML; let the name end in .html.")
    return path


def shown_index(args: Namespace) -> int | None:
    """The vehicle to show. Raises Refusal."""
    return None if args.show is None else _whole("--show", args.show, 0, _MOST_VEHICLES - 1)


def _names(option: str, given: list[str], known: Collection[str]) -> tuple[str, ...]:
    for name in given:
        if name not in known:
            hint = did_you_mean(name, known) or f"use {listed(list(known))}."
            raise Refusal(f"{option}: there is no {shown(name)} among the simulated ones; {hint}")
    return tuple(dict.fromkeys(given))


def _whole(option: str, text: str, low: int, high: int) -> int:
    if text.isascii() and text.isdigit() and len(text) < 20 and low <= int(text) <= high:
        return int(text)
    raise Refusal(f"{option}: {shown(text)} is no whole number from {low} to {high}.")


def _share(option: str, text: str) -> float:
    try:
        share = float(text)
    except ValueError:
        share = -1.0
    if not 0.0 <= share <= 1.0:
        raise Refusal(f"{option}: {shown(text)} is no number from 0 to 1.")
    return share


def _ends(option: str, text: str) -> tuple[str, str]:
    low, dots, high = text.partition("..")
    if not dots or not low.strip() or not high.strip():
        raise Refusal(f"{option}: write two values with .. between, for instance {_EXAMPLES[option]}.")
    return low.strip(), high.strip()


_EXAMPLES = {"--severity": "0.4..1", "--ambient": "15..42degC"}


def _severity(text: str) -> Range:
    low, high = (_share("--severity", end) for end in _ends("--severity", text))
    if low > high:
        raise Refusal("--severity: the lower value comes first.")
    return Range(low, high)


def _ambient(text: str) -> Range:
    """A unit behind the second value holds for both."""
    low_text, high_text = _ends("--ambient", text)
    try:
        high = parse(high_text, Kind.TEMPERATURE, "degC")
        low = parse(low_text, Kind.TEMPERATURE, high.unit)
    except QuantityError as error:
        raise Refusal(f"--ambient: {error}") from None
    if not _COLDEST_K <= low.si <= high.si <= _HOTTEST_K:
        raise Refusal(
            "--ambient: the simulated vehicles stand in air of 5 to 48 degC, the lower value first."
        )
    # rounded to what a command can hold, so that a printed one brings back the very same vehicles
    return Range(round(low.si, 6), round(high.si, 6))


def _refrigerant(text: str, drawer: Drawer) -> str:
    known = {name.casefold(): name for name in drawer.refrigerants()}
    if text.casefold() not in known:
        raise Refusal(
            f"--refrigerant: no simulated vehicle has {shown(text)}; use {listed(list(known.values()))}."
        )
    return known[text.casefold()]
