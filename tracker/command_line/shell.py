"""What a command gets from the start of the program: the clock, the owner's folder, and a way to
open the screen.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path


class Shell:
    """Built once in start.py and handed down; a test hands down its own.

    today: the day on which the command runs. user_folder: where the sample project's file goes.
    open_screen: opens a project file on the screen until the person leaves; the day is the one that
    --today names, if any. has_screen: whether a person sits at a terminal that can show one.
    is_watched: whether a person sees stderr.
    """

    def __init__(
        self,
        today: dt.date,
        user_folder: Callable[[], Path],
        open_screen: Callable[[Path, dt.date | None], None],
        has_screen: bool,
        is_watched: bool = False,
    ) -> None:
        self.today = today
        self.user_folder = user_folder
        self.open_screen = open_screen
        self.has_screen = has_screen
        self.is_watched = is_watched
