"""What was looked at before a draw request is sent, what the owner set aside with a reason, and
what is not in the draw.
"""

from __future__ import annotations

from tracker.answers.draw_checks import FINE, LOOK, NOT_KNOWN
from tracker.answers.draw_request import DrawRequest
from tracker.reports.document import CODE, MONEY, Column, Part

RESULTS = {FINE: "fine", LOOK: "LOOK", NOT_KNOWN: "not known"}


def checks(answer: DrawRequest) -> Part:
    """Each point that a lender looks at: fine, with what would come back, or not known."""
    columns = (
        Column("what", "Looked at"),
        Column("state", "Result", CODE),
        Column("remark", "Remark"),
    )
    rows = tuple((one.what, RESULTS[one.state], one.remark) for one in answer.checks)
    wrong, unknown = (
        sum(one.state == state for one in answer.checks) for state in (LOOK, NOT_KNOWN)
    )
    points = "point needs" if wrong == 1 else "points need"
    note = (
        f"{wrong} {points} a look before the request goes out."
        if wrong
        else "Nothing that is known of this is in the way."
    )
    note += (
        f" {unknown} {'is' if unknown == 1 else 'are'} not known: nothing is entered to tell it by."
        if unknown
        else ""
    )
    return Part("checks", "Looked at before sending", columns, rows, note=note, new_page=True)


def set_aside(answer: DrawRequest) -> Part:
    """Rules that the owner set aside, each with its reason."""
    columns = (Column("key", "For", CODE), Column("what", "Set aside"), Column("reason", "Reason"))
    rows = tuple((one.key, one.what, one.reason) for one in answer.set_aside)
    return Part(
        "set_aside", "Set aside by the owner, with the reason", columns, rows, empty="Nothing."
    )


def cuts(answer: DrawRequest) -> Part:
    """What the lender cut of a funded draw."""
    columns = (
        Column("code", "Line", CODE),
        Column("source", "Source", CODE),
        Column("asked", "Asked", MONEY, sums=True),
        Column("funded", "Funded", MONEY, sums=True),
        Column("cut", "Cut", MONEY, "", "{asked}-{funded}", sums=True),
        Column("reason", "Reason"),
    )
    rows = tuple(
        (c.cost_line, c.source, c.asked_cents, c.funded_cents, c.cut_cents, c.reason)
        for c in answer.cuts
    )
    asked, funded = (
        sum(getattr(c, name) for c in answer.cuts) for name in ("asked_cents", "funded_cents")
    )
    foot = ("Total", "", asked, funded, answer.cut_cents, "")
    return Part("cuts", "Cut by the lender, and claimable again", columns, rows, foot)


def not_in_draw(answer: DrawRequest) -> Part:
    """Applications that are not paid and not asked for, with what keeps them out."""
    columns = (
        Column("application", "Application", CODE),
        Column("who", "Contractor"),
        Column("state", "State", CODE),
        Column("amount", "Payable", MONEY, sums=True),
        Column("why", "Why it is not in this draw"),
    )
    rows = tuple(
        (n.application, n.contractor, n.state, n.left_to_pay_cents, n.why)
        for n in answer.not_in_draw
    )
    foot = ("Total", "", "", answer.not_in_draw_cents, "") if rows else ()
    return Part(
        "not_in_draw", "Applications that are not in this draw", columns, rows, foot, empty="None."
    )
