"""Permits: What must be inspected, and what did the inspector say?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class PermitsView(ListView):
    """What must be inspected, and what did the inspector say?"""

    CODE = "permits"
    COMES = "What must not be covered up yet, clocks of permits and inspections to request will be worked out here."
    CAUTION = "Do not cover work before its inspection passed; the inspector decides."
