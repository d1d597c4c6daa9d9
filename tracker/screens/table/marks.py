"""The marks of pages, for screens."""

from __future__ import annotations

from tracker.pages.marks import *  # noqa: F403
