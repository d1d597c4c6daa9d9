"""Trades: Who does what, for how much, and can I trust their papers?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class TradesView(ListView):
    """Who does what, for how much, and can I trust their papers?"""

    CODE = "trades"
    COMES = "Bids side by side, leveled, and who came on the day will be worked out here."
    CAUTION = "Check license and insurance before work; electrical, gas: licensed trades."
