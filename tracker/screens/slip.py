"""Slip: Why are we late, through whom, at what cost?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class SlipView(ListView):
    """Why are we late, through whom, at what cost?"""

    CODE = "slip"
    COMES = "Days by window, cause and party, from the snapshots, will be worked out here."
    CAUTION = ""
