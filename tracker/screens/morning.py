"""Morning: What must happen next?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class MorningView(ListView):
    """What must happen next?"""

    CODE = "morning"
    COMES = "What blocks the path, calls to make, filings, papers that run out and money waiting will be listed here."
    CAUTION = ""
