"""When a screen under test has nothing left to do.

Textual's pilot sleeps 20 ms at a time, twice a key, and looks at the processor's time: most of a
test would be sleep. The event loop itself knows whether anything is due in those 20 ms; only where
something is, or a thread works, is there anything to wait for.
"""

from __future__ import annotations

import asyncio
from time import monotonic
from typing import Any

import pytest
import textual.app
import textual.pilot
from textual._context import active_app
from textual._wait import wait_for_idle as by_the_clock

SOON = 1 / 50
"""Seconds within which what is due is waited for: as long as Textual's own wait sleeps."""


async def wait_for_idle(min_sleep: float = SOON, max_sleep: float = 1) -> None:
    """Wait until nothing is ready and nothing is due soon, `max_sleep` seconds at most."""
    loop: Any = asyncio.get_running_loop()
    if not hasattr(loop, "_ready") or not hasattr(loop, "_scheduled"):
        await by_the_clock(min_sleep, max_sleep)
        return
    end = monotonic() + max_sleep
    while monotonic() < end:
        await asyncio.sleep(0)
        if loop._ready:
            continue
        due = [one.when() for one in loop._scheduled if not one.cancelled()]
        soonest = min(due, default=loop.time() + 1) - loop.time()
        if soonest <= SOON:
            await asyncio.sleep(max(soonest, 0))
        elif _in_threads():
            await asyncio.sleep(0.001)
        else:
            return


def _in_threads() -> bool:
    """Whether a thread of the app works."""
    app: Any = active_app.get(None)
    return app is not None and any(
        one._thread_worker and one.is_running for one in app.workers._workers
    )


def install(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let pilot and app wait so."""
    monkeypatch.setattr(textual.pilot, "wait_for_idle", wait_for_idle)
    monkeypatch.setattr(textual.app, "wait_for_idle", wait_for_idle)
