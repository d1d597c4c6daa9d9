"""Changes: What changed, who agreed, what does it do to money and time?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class ChangesView(ListView):
    """What changed, who agreed, what does it do to money and time?"""

    CODE = "changes"
    COMES = "What a change does to forecast, contingency and opening before it is approved will be shown here."
    CAUTION = "A change by word of mouth is a dispute to come: write, price and sign it."
