"""Prints every free parameter of the vehicle model with its origin: `python -m
engine.vehicle.list_parameters`.
"""

from __future__ import annotations

import sys

from engine.vehicle.design import parameters


def main() -> int:
    """One line a parameter: name, value, unit, meaning, origin."""
    for one in parameters():
        print(f"{one.path} = {one.value} {one.unit}: {one.meaning} [{one.origin}]")
    return 0


if __name__ == "__main__":
    sys.exit(main())
