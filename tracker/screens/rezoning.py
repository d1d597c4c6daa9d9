"""Rezoning: May we use it this way?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class RezoningView(ListView):
    """May we use it this way?"""

    CODE = "rezoning"
    COMES = ""
    CAUTION = "Local ordinance and the officials' decisions govern; every date here is a reminder to be checked with them."
