"""Keys and texts of chance in the screen, in windows of several sizes: it does not die, and the
file stays in order.
"""

from __future__ import annotations

import asyncio
import random
from pathlib import Path
from time import monotonic

from tests.harness.common import TODAY, Tally, judged, main, sample
from tests.harness.fields import VALUES
from tracker.project_file.store import open_file

MOVES = (
    "up down left right pageup pagedown home end tab shift+tab enter enter escape escape space"
    " backspace delete insert"
)
DO = (
    "f1 f2 f3 f4 f5 ctrl+s ctrl+s ctrl+p ctrl+d question_mark slash plus minus left_square_bracket"
    " right_square_bracket"
)
KEYS = [*MOVES.split(), *DO.split(), *"abcdefghijklmnoprstuvwxyzLPU123456789"]
"""All but the ones that leave."""
SIZES = ((80, 24), (100, 30), (120, 40), (160, 40))
A_SCREEN = 250


async def _pressed(
    path: Path, size: tuple[int, int], chance: random.Random, count: int, until: float, tally: Tally
) -> None:
    """One screen until so many keys were pressed."""
    from textual.widgets import Input

    from tracker.screens.entry import evidence
    from tracker.screens.frame.app import TrackerApp

    evidence.hand_over = lambda *_: None  # type: ignore[assignment]
    with open_file(path) as project:
        app, last = TrackerApp(project, TODAY, "morning"), []
        async with app.run_test(size=size) as pilot:
            for _ in range(count):
                if monotonic() > until:
                    break
                if isinstance(app.focused, Input) and chance.random() < 0.3:
                    text = chance.choice(VALUES)[:200]
                    last.append(repr(text[:20]))
                    app.focused.insert_text_at_cursor(text.encode("utf-8", "replace").decode())
                else:
                    last.append(chance.choice(KEYS))
                    await pilot.press(last[-1])
                tally.counts["keys and texts"] += 1
                if not app.is_running:
                    tally.breach(f"the screen ended at {size} after {' '.join(last[-12:])}")
                    return
                shown = "\n".join(
                    "".join(part.text for part in strip)
                    for strip in app.screen._compositor.render_strips()
                )
                if "defect of this program" in shown:
                    tally.breach(f"a defect is shown at {size} after {' '.join(last[-12:])}")
                    return


def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
    """So many keys, a few hundred in each screen."""
    path = sample(folder)
    while tally.counts["keys and texts"] < times and monotonic() < until and not tally.breaches:
        count = min(A_SCREEN, times - tally.counts["keys and texts"])
        size = chance.choice(SIZES)
        tally.counts["screens"] += 1
        try:
            asyncio.run(_pressed(path, size, chance, count, until, tally))
        except Exception as error:
            tally.breach(f"the screen of {size} died: {type(error).__name__}: {str(error)[:300]}")
    judged(path, tally)


if __name__ == "__main__":
    main("keys", runs, 5_000)
