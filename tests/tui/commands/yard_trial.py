"""`loadstep trial` on the made-up yard: `python -m tests.tui.commands.yard_trial SECONDS WORDS…`.

Importable by spawned children, so what runs is under the main guard.
"""

from __future__ import annotations

import sys

from tests.engine.vehicle.trial.yard import Yard
from tui.commands import trial
from tui.commands.grammar import parse
from tui.commands.output import complain, flush
from tui.commands.refusal import Refusal


def main() -> int:
    args = parse(["trial", *sys.argv[2:]])
    try:
        code = trial.run(args, Yard(float(sys.argv[1])))
    except Refusal as refusal:
        complain(f"loadstep: {refusal}")
        return 2
    flush()
    return code


if __name__ == "__main__":
    sys.exit(main())
