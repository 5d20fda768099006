"""Makes the table behind `engine.physics.bands`: `python -m engine.vehicle.make_bands [--check]`.

Some minutes on two cores. `--check` makes the table anew, compares it with the shipped one, and exits 0 if it
is current, 1 if not. The table carries what a few of its vehicles read (`witnesses`): a test settles those
again, so a change of the model or the fleet shows in a second that the table is stale.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from multiprocessing import get_context
from typing import Any

from engine.physics.agree import agree
from engine.physics.bands_data import BAND_VERSION
from engine.physics.fleet_table import TABLE_PATH
from engine.vehicle.band_fit import QUANTILES, fit_cells
from engine.vehicle.band_sample import FLEET_NAME, SEED, Sample, samples_of

__all__ = ["VEHICLES", "main", "make", "stale_witnesses"]

VEHICLES = 4000
_WITNESSES = 16
_TOLERANCE_K = 0.01  # a table whose vehicles read the same to this is current; processors differ by far less


def make(vehicles: int = VEHICLES) -> dict[str, Any]:
    """The table as it is stored."""
    with get_context("spawn").Pool(os.cpu_count()) as pool:
        samples = [one for found in pool.imap(samples_of, range(vehicles), chunksize=25) for one in found]
    return {
        "version": BAND_VERSION,
        "fleet": FLEET_NAME,
        "seed": SEED,
        "vehicles": vehicles,
        "quantiles": list(QUANTILES),
        "highest_high_side": round(max(one.high_gauge_pa for one in samples)),
        "cells": fit_cells(samples),
        "witnesses": [_witness(one) for one in samples if one.index < _WITNESSES],
    }


def _witness(one: Sample) -> list[Any]:
    sides = (one.low_side, one.high_side, one.vent_temperature)
    return ["/".join((one.load, *one.commands)), *(round(value, 3) for value in sides)]


def stale_witnesses(table: dict[str, Any]) -> list[int]:
    """Numbers of the witnesses that no longer read, or are no longer called, what the table says."""
    anew = [_witness(one) for index in range(_WITNESSES) for one in samples_of(index)]
    kept = table["witnesses"]
    if len(anew) != len(kept):
        return list(range(len(kept)))
    return [i for i, pair in enumerate(zip(anew, kept, strict=True)) if not _same(*pair)]


def _same(made: Any, shipped: Any) -> bool:
    """Equal but for `_TOLERANCE_K`."""
    return agree(made, shipped, abs_tol=_TOLERANCE_K)


def main(arguments: list[str] | None = None) -> int:
    """Writes the table, or with `--check` says whether the shipped one is current."""
    parser = argparse.ArgumentParser(prog="python -m engine.vehicle.make_bands", description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 if not current")
    check = parser.parse_args(arguments).check
    table = make()
    if not check:
        TABLE_PATH.write_text(json.dumps(table, separators=(",", ":")) + "\n", encoding="utf-8")
        print(f"{TABLE_PATH.name}: {TABLE_PATH.stat().st_size} bytes, {len(table['cells'])} cells")
        return 0
    shipped = json.loads(TABLE_PATH.read_text(encoding="utf-8")) if TABLE_PATH.exists() else None
    current = _same(table, shipped)
    print("the table is current" if current else "not current; run without --check")
    return 0 if current else 1


if __name__ == "__main__":
    sys.exit(main())
