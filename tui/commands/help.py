"""`loadstep help`: pages that come along, printed as they are."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from importlib.resources import files

from engine.flow.suggest import did_you_mean
from tui.commands.exit_codes import GOOD
from tui.commands.output import say
from tui.commands.refusal import Refusal

PAGES: Mapping[str, tuple[str, str, str]] = {
    "flow-language": ("flows", "README.md", "how flows are written: the language, an example, habits"),
}
"""By topic: the package and the file where it stands, and what it is about."""


def run(args: Namespace) -> int:
    if not args.topic:
        for topic, (_, _, about) in PAGES.items():
            say(f"loadstep help {topic}    {about}")
        return GOOD
    if args.topic not in PAGES:
        raise Refusal(f"there is no page on `{args.topic}`; {did_you_mean(args.topic, PAGES)}")
    package, name, _ = PAGES[args.topic]
    for line in files(package).joinpath(name).read_text(encoding="utf-8").splitlines():
        say(line)
    return GOOD
