"""What belongs into each table, for lists that are still empty, and which tables stand behind each
view.
"""

from __future__ import annotations

from tracker.pages.registry import WITH_KEYS
from tracker.tables import BY_NAME

TABLES_OF_VIEWS = {view.code: view.tables for view in WITH_KEYS}
"""The tables behind each view, in the order in which a person fills them."""

READ_ONLY = ("snapshots",)
"""Tables that are not edited row by row."""

FIRST = {
    "overrides": (
        "An exception to a rule that stops something, with the reason that is printed wherever it"
        " matters."
    ),
    "files": (
        "Papers that prove something: the original stays where it is, its fingerprint is kept here."
    ),
    "activities": (
        "What is to be done, waited for or delivered, each with its days. Start with the opening"
        " and work backwards."
    ),
    "links": "What waits for what. An activity that nothing holds starts on the first day.",
    "deliveries": (
        "Long-lead goods with their five dates: submitted, approved, ordered, promised to ship, on"
        " site."
    ),
    "calendars": "The days on which people work, and the days on which boards and councils meet.",
    "calendar_days": (
        "Single days that differ: a holiday, a Saturday worked, a meeting called off, a published"
        " cut-off."
    ),
    "weather": "How many working days of a month the weather usually takes.",
    "step_costs": (
        "Sums that fall due when the opening passes a date: a loan extension, a lease that starts."
    ),
    "cost_lines": (
        "The budget, line by line. Hard, soft, financing, land and the two contingencies."
    ),
    "budget_moves": "Money moved from one cost line to another, with the reason.",
    "spaces": (
        "Rooms and bays with gross and rentable square feet and their rent: the divisors of every"
        " figure per square foot."
    ),
    "checklist": (
        "What must be proven before the new use is allowed, by stage, each item with who"
        " governs it."
    ),
    "hearings": "Each case before a board or council: when filed, when heard, what came of it.",
    "notices": "Which notices a body must give before it meets, and how many days ahead.",
    "protest": (
        "How much land is entitled to protest and how much has protested, by class of owners."
    ),
    "answers": (
        "What you found out about the building, the rules and the people, with source and date."
    ),
    "fire_layouts": (
        "Ways to divide the building into fire areas, with the price of a wall and of sprinklers,"
        " to compare."
    ),
    "permits": "Each permit with its authority and its clock.",
    "inspections": (
        "Each inspection in its order, with the activities that would cover the work up."
    ),
    "inspection_items": "What the inspector asked to be corrected.",
    "contractors": "Everybody who works for the project. The name as it must stand on a check.",
    "papers": "Licenses, insurance and other papers that run out.",
    "packages": "Work that is bid as one.",
    "package_items": "The scope items that every bid on a package must answer.",
    "bids": "Who was asked, who answered, and for how much.",
    "bid_answers": (
        "What each bid says about each scope item: included, excluded, allowance, unclear."
    ),
    "words_given": "What somebody said would be done, by when, and when they came.",
    "site_log": "One entry a day: weather, who was there, what happened.",
    "changes": "What changed, who asked, its price and its days.",
    "change_lines": "The price of a change, line by line.",
    "contracts": "Contracts signed, or about to be.",
    "contract_lines": "Schedules of values: the lines of a contract add up to its sum.",
    "retainage_events": "Changes of the rate held back, and releases of what is held.",
    "applications": "Pay applications, one a period and contract.",
    "application_lines": "What an application claims line by line, and what was seen in place.",
    "waivers": "Lien waivers, conditional and unconditional.",
    "lien_notices": "Suppliers and lower trades that sent a notice to owner.",
    "invoices": "Bills outside of pay applications.",
    "payments": "What was paid.",
    "sources": "Where the money comes from: your own, the loan, others.",
    "draws": "Draw requests to the lender.",
    "draw_lines": "What a draw asks of a source on each cost line.",
    "draw_papers": "The papers of a draw's package.",
    "snapshots": (
        "The plan as it stood at each status date. `tracker snapshot FILE --date DATE` keeps one."
    ),
    "delays": "What cost time on site, why, and through whom.",
    "risks": "Things that may happen, and the activities that they would hit.",
    "buying_days": "What a working day won on an activity would cost, and how many can be had.",
    "project": "What holds for the whole project.",
}
"""What belongs into a table, in a sentence."""


def empty_words(table: str) -> str:
    """What an empty list says: what belongs here and which key makes the first row."""
    if table in READ_ONLY:
        return f"Nothing here yet. {FIRST[table]}"
    return f"Nothing here yet. {FIRST[table]} Press a to make the first row."


def title_of(table: str) -> str:
    """A table's name as people read it."""
    return table.replace("_", " ")


def about(table: str) -> str:
    """What a table holds, in a few words."""
    return str(BY_NAME[table].ABOUT)
