"""Draws: Whom may I pay, and will the lender fund it?"""

from __future__ import annotations

from tracker.screens.list_view import ListView


class DrawsView(ListView):
    """Whom may I pay, and will the lender fund it?"""

    CODE = "draws"
    COMES = "Friday's payments, what stops each, and the draw in balance or short will be worked out here."
    CAUTION = "Paying without a waiver can mean paying twice; lien dates: an attorney."
