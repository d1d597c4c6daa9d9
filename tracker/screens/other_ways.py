"""Entries that offer another way where something was refused.

Each looks at what was wrong, asks the person where it knows a way, and says whether that tells all
that is wrong. This list is all that there is: screens and frame know none of them.
"""

from __future__ import annotations

from collections.abc import Callable

from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.permits.inspection_step import offer_override
from tracker.values.problems import ProblemError

OTHER_WAYS: tuple[Callable[[ProjectScreen, ProblemError], bool], ...] = (offer_override,)


def offer_another_way(screen: ProjectScreen, error: ProblemError) -> bool:
    """Whether one of them offers a way, and that says all that is wrong."""
    return any(offer(screen, error) for offer in OTHER_WAYS)
