"""Questions whose answers the rules of money read: figures of state and owner, each with source and
day of checking.
"""

from __future__ import annotations

from tracker.money import escalation, lien_clock, retainage_caps, yield_on_cost

QUESTIONS = {
    retainage_caps.QUESTION: "the state in which the building stands: two letters",
    retainage_caps.OWN_CAP: (
        "percent that the state lets an owner hold back; name the statute, and ask an attorney"
    ),
    lien_clock.QUESTION: (
        "days after the last work in which a lien can come in the state; name the statute, and ask"
        " an attorney"
    ),
    yield_on_cost.YEARS: (
        "years in which the loans on the finished building are paid off; 25 without an answer"
    ),
    escalation.RATE: (
        "percent a year by which prices rise; with prices_from, what is still to buy is shown at"
        " later prices too"
    ),
    escalation.SINCE: "the day on which the prices of the budget were had: 2027-03-05",
}
"""What each is, by its code in the table `answers`."""
