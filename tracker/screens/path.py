"""Path: When do we open, and what drives it?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class PathView(ListView):
    """When do we open, and what drives it?"""

    CODE = "path"
    COMES = "Activities on a time axis with what drives the opening, float and gates will be drawn here."
    CAUTION = ""
