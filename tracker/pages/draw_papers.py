"""The tables of a draw request besides money and people: what was looked at, what is not in the
draw, and the papers that it lists.
"""

from __future__ import annotations

from tracker.answers.draw_checks import FINE, LOOK, NOT_KNOWN
from tracker.answers.draw_request import DrawRequest
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    Column,
    Part,
    cells_of,
    plain_rows,
    total,
)

RESULTS = {FINE: "fine", LOOK: "LOOK", NOT_KNOWN: "not known"}

LOOKED_AT = (
    Column("what", "looked at"),
    Column("state", "result", CODE),
    Column("remark", "remark"),
)
SET_ASIDE = (
    Column("key", "for", CODE),
    Column("what", "set aside"),
    Column("reason", "reason"),
)
CUTS = (
    Column("cost_line", "line", CODE),
    Column("source", "source", CODE),
    Column("asked", "asked", MONEY, sums=True),
    Column("funded", "funded", MONEY, sums=True),
    Column("cut", "cut", MONEY, "", "{asked}-{funded}", sums=True),
    Column("reason", "reason"),
)
NOT_IN_DRAW = (
    Column("application", "application", CODE),
    Column("contractor", "contractor"),
    Column("state", "state", CODE),
    Column("left_to_pay", "payable", MONEY, sums=True),
    Column("why", "why it is not in this draw"),
)
INVOICES = (
    Column("contractor", "from"),
    Column("number", "number", CODE),
    Column("date", "date", DAY),
    Column("kind", "kind", CODE),
    Column("cost_line", "line", CODE),
    Column("amount", "amount", MONEY, sums=True),
    Column("evidence", "paper"),
)
STORED = (
    Column("application", "application", CODE),
    Column("line", "line", CODE),
    Column("name", "what"),
    Column("stored", "stored", MONEY, sums=True),
)
WAIVERS = (
    Column("code", "waiver", CODE),
    Column("contract", "contract", CODE),
    Column("application", "application", NUMBER),
    Column("from_party", "from"),
    Column("kind", "kind"),
    Column("amount", "amount", MONEY),
    Column("through", "through", DAY),
    Column("date", "given", DAY),
)
MISSING = (
    Column("key", "application", CODE),
    Column("gate", "waiver"),
    Column("state", "state", CODE),
    Column("reason", "reason"),
)
CHANGES = (
    Column("number", "change", CODE),
    Column("contract", "contract", CODE),
    Column("title", "what"),
    Column("reason", "why"),
    Column("approved", "approved", DAY),
    Column("price", "price", MONEY, sums=True),
    Column("days", "days", NUMBER),
)
MOVES = (
    Column("number", "move", CODE),
    Column("date", "date", DAY),
    Column("from_line", "from line", CODE),
    Column("to_line", "to line", CODE),
    Column("amount", "amount", MONEY),
    Column("reason", "why"),
)
INSPECTIONS = (
    Column("code", "inspection", CODE),
    Column("name", "what"),
    Column("permit", "permit", CODE),
    Column("date", "date", DAY),
    Column("state", "state", CODE),
    Column("open_items", "corrections open", NUMBER),
)
ON_FILE = (
    Column("holder", "of"),
    Column("kind", "paper", CODE),
    Column("number", "number", CODE),
    Column("from_", "from", DAY),
    Column("to", "to", DAY),
    Column("state", "state", CODE),
)


def checks(answer: DrawRequest) -> Part:
    """Each point that a lender looks at: fine, with what would come back, or not known."""
    rows = plain_rows(cells_of(one, LOOKED_AT, state=RESULTS[one.state]) for one in answer.checks)
    wrong, unknown = (
        sum(one.state == state for one in answer.checks) for state in (LOOK, NOT_KNOWN)
    )
    note = "Nothing that is known of this is in the way."
    if wrong:
        points = "point needs" if wrong == 1 else "points need"
        note = f"{wrong} {points} a look before the request goes out."
    if unknown:
        are = "is" if unknown == 1 else "are"
        note += f" {unknown} {are} not known: nothing is entered to tell it by."
    return Part("checks", "looked at before sending", LOOKED_AT, rows, note=note, new_page=True)


def beside(answer: DrawRequest) -> list[Part]:
    """What the lender cut of a funded draw, what the owner set aside, and what is not in it."""
    asked = sum(one.asked_cents for one in answer.cuts)
    funded = sum(one.funded_cents for one in answer.cuts)
    cuts = Part(
        "cuts",
        "cut by the lender, and claimable again",
        CUTS,
        plain_rows(cells_of(one, CUTS) for one in answer.cuts),
        (total(CUTS, "total", asked=asked, funded=funded, cut=answer.cut_cents),),
    )
    aside = Part(
        "set_aside",
        "set aside by the owner, with the reason",
        SET_ASIDE,
        plain_rows(cells_of(one, SET_ASIDE) for one in answer.set_aside),
        empty="Nothing.",
    )
    out = plain_rows(cells_of(one, NOT_IN_DRAW) for one in answer.not_in_draw)
    foot = (total(NOT_IN_DRAW, "total", left_to_pay=answer.not_in_draw_cents),) if out else ()
    title = "applications that are not in this draw"
    not_in = Part("not_in_draw", title, NOT_IN_DRAW, out, foot, empty="None.")
    return [*([cuts] if answer.cuts else []), aside, not_in]


def invoices(answer: DrawRequest) -> Part:
    """The bills of this draw, each with its paper."""
    rows = plain_rows(
        cells_of(one, INVOICES, evidence=one.evidence or "none on record")
        for one in answer.invoices
    )
    return Part(
        "invoices",
        "invoices of this draw",
        INVOICES,
        rows,
        (total(INVOICES, "total", amount=answer.invoices_cents),) if rows else (),
        empty="No bill names this draw.",
        wide=True,
        new_page=True,
    )


def stored(answer: DrawRequest) -> Part:
    """Goods that are paid for and not built in yet."""
    rows = plain_rows(cells_of(one, STORED) for one in answer.stored)
    note = "Each needs a bill of sale, the place where it lies, its insurance and a photograph."
    return Part(
        "stored",
        "stored materials",
        STORED,
        rows,
        (total(STORED, "total", stored=answer.stored_cents),) if rows else (),
        note=note if rows else "",
        empty="Nothing is stored.",
        wide=True,
    )


def of_period(answer: DrawRequest) -> list[Part]:
    """Waivers, changes, moves of budget, inspections: what the period brought; and what is on file
    of those who are paid.
    """
    changed = plain_rows(cells_of(one, CHANGES) for one in answer.changes)
    price = answer.changes_total_cents
    return [
        Part(
            "waivers",
            "waivers",
            WAIVERS,
            plain_rows(cells_of(one, WAIVERS) for one in answer.waivers),
            empty="No waiver is on record for this draw.",
            wide=True,
            new_page=True,
        ),
        Part(
            "missing",
            "waivers missing, or set aside",
            MISSING,
            plain_rows(
                cells_of(one, MISSING, key=f"{one.contract}/{one.application}")
                for one in answer.missing_waivers
            ),
            empty="None.",
            wide=True,
        ),
        Part(
            "changes",
            "changes approved in the period",
            CHANGES,
            changed,
            (total(CHANGES, "total", price=price),) if changed else (),
            empty="None was approved in the period.",
            wide=True,
        ),
        Part(
            "moves",
            "budget moved in the period",
            MOVES,
            plain_rows(cells_of(one, MOVES) for one in answer.moves),
            empty="None was moved in the period.",
            wide=True,
        ),
        Part(
            "inspections",
            "inspections of the period",
            INSPECTIONS,
            plain_rows(cells_of(one, INSPECTIONS) for one in answer.inspections),
            empty="None took place in the period.",
            wide=True,
        ),
        Part(
            "on_file",
            "insurance, licenses, tax forms",
            ON_FILE,
            plain_rows(
                cells_of(one, ON_FILE, state="valid" if one.valid else "NOT VALID")
                for one in answer.papers
            ),
            empty="None is on record.",
            wide=True,
        ),
    ]
