"""The project itself, its spaces, attached files, and reasoned exceptions: what every room may
need.
"""

from __future__ import annotations

import datetime as dt

from tracker.values.kinds import Cents, Choice, Code, Correlation, Day, Number, Rate, Text
from tracker.values.records import column, record

DEFAULT_START = dt.date(2026, 1, 5)
"""Project start where none is given."""


@record("project", "The project: one row")
class Project:
    """What holds for the whole project."""

    name: str = column(Text(), help="what the project is called")
    address: str = column(Text(), help="where the building stands")
    existing_use: str = column(Text(), help="what the building was used for")
    proposed_use: str = column(Text(), help="what it shall be used for")
    start: dt.date = column(Day(), empty=DEFAULT_START, help="the day on which the project starts")
    status_date: dt.date | None = column(
        Day(), fact=True, help="all through this day is known; unfinished work lies after it"
    )
    opening: str = column(
        Code(),
        refers="activities",
        help="the activity whose finish is the opening; blank: the last finish",
    )
    promised_opening: dt.date | None = column(
        Day(), help="the day that was promised for the opening"
    )
    jurisdiction: str = column(Text(), help="the name of the jurisdiction file that was used")
    currency: str = column(Text(), empty="USD", help="three letters, printed beside sums")
    loan_interest_per_day: int | None = column(
        Cents(), help="dollars a day; blank: computed from the balance drawn"
    )
    insurance_per_day: int | None = column(Cents(), help="dollars a day")
    tax_per_day: int | None = column(Cents(), help="dollars a day")
    utilities_per_day: int | None = column(Cents(), help="dollars a day")
    rent_per_day: int | None = column(
        Cents(), help="dollars a day not earned; blank: computed from the spaces' rent"
    )
    vacancy: int | None = column(Rate(), help="percent of the rent that is not earned on average")
    running_costs_per_month: int | None = column(
        Cents(), help="dollars a month to run the building when open"
    )
    value_when_done: int | None = column(
        Cents(), help="appraised value when done, for loan-to-value"
    )
    cash_on_hand: int | None = column(
        Cents(least=-99_999_999_999_99), help="the owner's own cash on that morning"
    )
    cash_as_of: dt.date | None = column(
        Day(),
        fact=True,
        help=(
            "the day in whose morning the cash was so much, before what was paid on it; blank: the"
            " status date"
        ),
    )
    pinned_today: dt.date | None = column(
        Day(),
        help=(
            "the day that counts as today in this project, whatever the clock says; blank: the"
            " clock's day"
        ),
    )
    funding_days: int | None = column(
        Number(0, 365), help="calendar days from a draw sent to a draw funded"
    )
    payment_days: int | None = column(
        Number(0, 365), help="calendar days from an invoice or application to its due day"
    )
    near_critical_days: int = column(
        Number(0, 9_999), empty=5, help="working days of float that still count as near to driving"
    )
    risk_shape: str = column(
        Choice(("pert", "triangular")), empty="pert", help="distribution of uncertain durations"
    )
    risk_trials: int = column(Number(1, 1_000_000), empty=10_000, help="how many trials")
    risk_seed: int = column(
        Number(0, 999_999_999), empty=1, help="the same seed gives the same trials"
    )
    common_cause: int = column(
        Correlation(), empty=300, help="correlation between activities of one trade"
    )
    low_bid_share: int = column(
        Rate(), empty=20_000, help="percent below the others from which a bid is called far below"
    )


def today_of(project: Project | None, asked: dt.date | None, clock: dt.date) -> dt.date:
    """The day that counts as today: the one that was asked for, else the project's own day, else
    the clock's.
    """
    return asked or (project.pinned_today if project else None) or clock


@record("spaces", "Rooms, bays and other areas of the building")
class Space:
    """One space; areas in whole square feet."""

    code: str = column(Code(), key=True)
    name: str = column(Text())
    use: str = column(Text(), help="what it is used for when open")
    gross_sf: int | None = column(Number(), help="gross square feet")
    rentable_sf: int | None = column(Number(), help="rentable square feet")
    units: int | None = column(Number(), help="how many units are let here")
    fire_area: str = column(Code(), help="the fire area in which it lies")
    rent_per_month: int | None = column(Cents(), help="dollars a month for the whole space")
    function: str = column(
        Text(),
        help=(
            "what people do there, for the load: warehouse, industrial, business, mercantile,"
            " residential ..."
        ),
    )


@record("overrides", "Reasoned exceptions to a rule that stops something")
class Override:
    """An exception that somebody made, with the reason that is printed wherever it matters."""

    code: str = column(Code(), key=True)
    what: str = column(Text(), required=True, help="the rule or gate that is set aside")
    key: str = column(Text(), required=True, help="what it is set aside for")
    date: dt.date | None = column(Day(), fact=True, required=True)
    reason: str = column(Text(), required=True)


@record("files", "Attached papers: the original stays where it is, its fingerprint is kept")
class AttachedFile:
    """A file that is evidence for a row of some table."""

    code: str = column(Code(), key=True)
    table: str = column(Text(), required=True, help="the table that it belongs to")
    key: str = column(Text(), required=True, help="the row's key")
    path: str = column(
        Text(), required=True, help="where the file lies, relative to the project file if possible"
    )
    sha256: str = column(Text(), help="fingerprint of the content")
