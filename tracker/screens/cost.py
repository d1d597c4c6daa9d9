"""Cost: What does it cost per square foot?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class CostView(ListView):
    """What does it cost per square foot?"""

    CODE = "cost"
    COMES = ""
    CAUTION = ""
