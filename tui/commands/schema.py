"""`loadstep schema`: print the JSON Schema that editors complete and check YAML files by."""

from __future__ import annotations

from argparse import Namespace

from engine.flow.suggest import did_you_mean
from engine.job.schemas import SCHEMAS, schema_text
from tui.commands.exit_codes import GOOD
from tui.commands.output import say
from tui.commands.refusal import Refusal


def run(args: Namespace) -> int:
    if args.kind not in SCHEMAS:
        raise Refusal(f"there is no schema of a `{args.kind}`; {did_you_mean(args.kind, SCHEMAS)}")
    for line in schema_text(args.kind).splitlines():
        say(line)
    return GOOD
