"""Trying all vehicles of a plan, in this process or in a pool of spawned ones, in the order of their numbers.

Spawned, never forked: a fork of a program with threads can hang. Never inside the app: a screen starts
`loadstep trial --json` as a child.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass

from engine.vehicle.trial.job import Keep, Result, try_vehicle
from engine.vehicle.trial.plan import Plan

CHUNK = 8
"""Vehicles sent to a process at a time: few enough to stop soon, enough to keep sending cheap."""


class VehicleError(RuntimeError):
    """A vehicle could not be tried; the message names it. A mistake of ours or of the flow."""


OnDone = Callable[[int], None]
"""Told how many more vehicles are done."""


@dataclass(frozen=True, slots=True)
class Ran:
    """Results of one fleet in the order of their numbers. `stopped`: Ctrl-C came before all were done."""

    fleet: str
    results: tuple[Result, ...]
    stopped: bool


def run(
    plan: Plan, fleet: str, jobs: int = 1, keep: Keep | None = None, on_done: OnDone | None = None
) -> Ran:
    """All vehicles of the plan from one fleet; the same results whatever `jobs` is.

    Ctrl-C (KeyboardInterrupt) ends it with what is done by then.
    """
    keep = keep or Keep()
    tell = on_done or (lambda _: None)
    if jobs <= 1 or plan.vehicles <= CHUNK:
        return _run_here(plan, fleet, keep, tell)
    return _run_in_pool(plan, fleet, jobs, keep, tell)


def processors() -> int:
    """Processors this program may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not every system tells
        return os.cpu_count() or 1


def _run_here(plan: Plan, fleet: str, keep: Keep, tell: OnDone) -> Ran:
    results: list[Result] = []
    try:
        for index in range(plan.vehicles):
            results.append(_try(plan, fleet, index, keep))
            tell(1)
    except KeyboardInterrupt:
        return Ran(fleet, tuple(results), stopped=True)
    return Ran(fleet, tuple(results), stopped=False)


def _run_in_pool(plan: Plan, fleet: str, jobs: int, keep: Keep, tell: OnDone) -> Ran:
    futures: list[Future[list[Result]]] = []
    stopped = False
    pool = ProcessPoolExecutor(jobs, multiprocessing.get_context("spawn"), _begin_child, (plan, fleet, keep))
    try:
        with _children_leave_interrupts_alone():
            futures.extend(pool.submit(_try_in_child, part) for part in _parts(plan.vehicles))
        for future in futures:
            tell(len(future.result()))
    except KeyboardInterrupt:
        stopped = True
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
    return Ran(fleet, tuple(_collected(futures)), stopped)


def _collected(futures: Sequence[Future[list[Result]]]) -> Iterator[Result]:
    for future in futures:
        if future.done() and not future.cancelled():
            yield from future.result()


def _parts(vehicles: int) -> Iterator[range]:
    for start in range(0, vehicles, CHUNK):
        yield range(start, min(start + CHUNK, vehicles))


@contextmanager
def _children_leave_interrupts_alone() -> Iterator[None]:
    """Ctrl-C reaches every process of the terminal; children started meanwhile inherit that it is ignored."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


_child: tuple[Plan, str, Keep] | None = None


def _begin_child(plan: Plan, fleet: str, keep: Keep) -> None:
    global _child
    _child = plan, fleet, keep
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """A killed parent can end nobody; without this its children would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _try_in_child(part: range) -> list[Result]:
    assert _child is not None
    plan, fleet, keep = _child
    return [_try(plan, fleet, index, keep) for index in part]


def _try(plan: Plan, fleet: str, index: int, keep: Keep) -> Result:
    try:
        return try_vehicle(plan.flow, plan.drawer, plan.ask(fleet, index), keep)
    except Exception as error:
        raise VehicleError(
            f"vehicle {index} of fleet {fleet}, seed {plan.seed}: {type(error).__name__}: {error}"
        ) from error
