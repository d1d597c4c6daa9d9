"""Our own checks on a schedule."""

import datetime as dt

from tracker.answers.health import from_rows
from tracker.money.records import Contract
from tracker.schedule.records import Activity
from tracker.trades.records import Contractor, Paper
from tracker.values.project import Project

FIRST, LAST = dt.date(2026, 1, 5), dt.date(2026, 1, 14)


def check(papers):
    rows = {
        "project": [Project(start=FIRST)],
        "contractors": [Contractor(code="ACME", name="Acme of Nowhere")],
        "contracts": [Contract(code="C", contractor="ACME")],
        "activities": [Activity(code="A", kind="work", duration=10, contract="C")],
        "papers": papers,
    }
    return next(
        c for c in from_rows(rows, FIRST).checks if c.name == "contractor without valid papers"
    )


def papers(*license_spans):
    others = [
        Paper(code=kind[0], contractor="ACME", kind=kind) for kind in ("liability", "workers comp")
    ]
    licenses = [
        Paper(code=f"l{at}", contractor="ACME", kind="license", from_=begin, to=end)
        for at, (begin, end) in enumerate(license_spans)
    ]
    return [*others, *licenses]


def test_a_license_that_ends_a_day_before_the_work_does_is_told():
    assert (check(papers((None, LAST))).codes, check(papers((None, LAST))).of) == ((), 1)
    assert check(papers((None, LAST - dt.timedelta(days=1)))).codes == ("A",)
    assert check(papers()).codes == ("A",)


def test_a_license_renewed_without_a_day_between_covers_the_work():
    """As in Trades and Morning, which ask the same rule."""
    middle = dt.date(2026, 1, 9)
    assert check(papers((None, middle), (middle + dt.timedelta(days=1), None))).codes == ()
    assert check(papers((None, middle), (middle + dt.timedelta(days=2), None))).codes == ("A",)
