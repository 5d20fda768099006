"""Each theme, few colours and none: the words and signs are there without the colours."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from engine.job.store import Store
from tests.tui.walking import person
from tui import themes

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("theme", themes.NAMES)
async def test_every_theme_draws_a_caution_an_entry_and_a_stop(store: Store, theme: str) -> None:
    async with person(store) as p:
        p.app.theme = theme
        await p.to_baseline()
        assert "▲ DANGER" in p.seen
        await p.press("enter")
        await p.enter("31", "410")
        assert "■ STOP" in p.seen


@pytest.mark.parametrize(
    "terminal",
    [
        {"NO_COLOR": "1", "TERM": "xterm-256color"},
        {"TERM": "xterm-16color"},
        {"TEXTUAL_COLOR_SYSTEM": "standard", "TERM": "xterm"},
        {"TERM": "xterm-256color"},
        {"COLORTERM": "truecolor", "TERM": "xterm-256color"},
    ],
    ids=str,
)
def test_on_every_kind_of_terminal_the_choice_is_marked_by_a_sign(
    tmp_path: Path, terminal: dict[str, str]
) -> None:
    code = (
        "import asyncio, sys\n"
        "from pathlib import Path\n"
        "from engine.job.store import Store\n"
        "from tests.tui.walking import person\n"
        "async def main():\n"
        "    with Store.open(Path(sys.argv[1])) as store:\n"
        "        async with person(store) as p:\n"
        "            await p.type('2')\n"
        "            assert '▸ 2  Electric motor' in p.seen, p.seen\n"
        "            await p.press('enter', 'f2', 'f2')\n"
        "            assert '▲ WARNING' in p.seen, p.seen\n"
        "            print(p.app.theme)\n"
        "asyncio.run(main())\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={"PATH": "/usr/bin", "HOME": str(tmp_path), "LOADSTEP_HOME": str(tmp_path), **terminal},
        timeout=60,
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.strip() in themes.NAMES


def test_a_whole_job_on_the_screen_never_loads_the_property_library(tmp_path: Path) -> None:
    code = (
        "import asyncio, sys\n"
        "from pathlib import Path\n"
        "from engine.job.store import Store\n"
        "from tests.tui.walking import person\n"
        "async def main():\n"
        "    with Store.open(Path(sys.argv[1])) as store:\n"
        "        async with person(store) as p:\n"
        "            await p.to_raised()\n"
        "            await p.press('f1', 'escape', 'f5', 'escape', 'f3', 'enter', 'enter', 'f2')\n"
        "            await p.enter('35', '200')\n"
        "            await p.press('enter', 'enter', '1')\n"
        "            print(type(p.app.screen).__name__, p.session.walk.status)\n"
        "asyncio.run(main())\n"
        "print([name for name in sys.modules if name.split('.')[0] in ('CoolProp', 'numpy', 'scipy')])\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
        timeout=60,
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.split("\n")[:2] == ["SheetScreen finished", "[]"]
