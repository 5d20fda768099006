"""The key bar fits itself into its line, and the mouse presses what it shows."""

import pytest

from tests.tui.bare import BareApp
from tui.widgets.key_bar import KeyBar


class Pressed(BareApp):
    """Notes the keys that reach it."""

    def __init__(self, where: str) -> None:
        super().__init__(KeyBar(where))
        self.keys: list[str] = []

    def on_key(self, event) -> None:  # type: ignore[no-untyped-def]
        self.keys.append(event.key)


@pytest.mark.parametrize(
    ("width", "shown"),
    [
        (80, " F1 Help  F2 Cannot  F3 Units  F4 Board  F8 Undo  Esc Back  "),
        (40, " F1 Help F2 Cannot F4 Board F8 Undo "),
        (28, " F2 Cannot F4 Board F8 Undo "),
    ],
)
async def test_it_leaves_out_what_gives_way_first(width: int, shown: str) -> None:
    app = Pressed("walk")
    async with app.run_test(size=(width, 3)):
        assert str(app.query_one(KeyBar).render()) == shown


async def test_a_click_presses_the_key_under_it() -> None:
    app = Pressed("walk")
    async with app.run_test(size=(80, 3)) as pilot:
        line = str(app.query_one(KeyBar).render())
        for word in ("F2", "Board", "Esc"):
            await pilot.click(KeyBar, offset=(line.index(word), 0))
        await pilot.click(KeyBar, offset=(78, 0))
        await pilot.pause()
        assert app.keys == ["f2", "f4", "escape"]
