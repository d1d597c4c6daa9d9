"""A bid is awarded: contract and schedule of values in one step, told before they are kept; and the
contract is signed.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.actions.award import Awarded, AwardEntry, award
from tracker.actions.codes import next_code
from tracker.actions.sign_contract import Signed, sign_contract
from tracker.money.records import Contract
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened
from tracker.screens.entry.money_words import amount, with_and_without
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.table.sections import Line, Section
from tracker.trades.records import Bid
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Code, Day, Rate
from tracker.values.problems import Problem, ProblemError

if TYPE_CHECKING:
    from tracker.answers.trade_rows import BidRow, PackageRow

OPEN = ("received", "passed over")
"""States of a bid that can be awarded."""


def awarding(package: PackageRow) -> Entry[Awarded]:
    """One package, one winner."""

    def bids(opened: Opened) -> dict[str, Bid]:
        rows = [b for b in opened.rows.get("bids", ()) if b.package == package.code]
        return {b.contractor: b for b in rows if b.state in OPEN}

    def fields(opened: Opened) -> Sequence[EntryField]:
        who = tuple(bids(opened))
        if not who:
            do = "enter a bid as received, with its price"
            raise ProblemError(
                Problem("no bid of the package can be awarded", do, "packages", package.code)
            )
        leveled = [b for b in package.bids if b.contractor in who and b.leveled_cents is not None]
        best = min(leveled, key=lambda b: b.leveled_cents or 0, default=None)
        lowest = f"lowest leveled: {best.contractor}, {amount(best.leveled_cents)}" if best else ""
        code = next_code(opened.rows, "contracts", "C")
        unsigned = "blank: not signed yet, it does not count until it is"
        held = "percent of work in place; blank: none"
        return (
            EntryField("contractor", OneOf(who), lowest, who[0] if len(who) == 1 else "", True),
            EntryField(
                "contract", Code(), "the code of the new contract", code, True, column="code"
            ),
            EntryField("signed", Day(), unsigned),
            EntryField("held_back", Rate(), held, column="retainage"),
        )

    def act(given: Given) -> Awarded:
        who = given["contractor"]
        return award(
            given.project,
            AwardEntry(package.code, who, given["contract"], given["signed"], given["held_back"]),
            given.today,
            expected=bids(given)[who],
            only_try=given.only_try,
        )

    return Entry(
        title=f"Award {package.code} {package.name}",
        help=(
            "The bid becomes a contract whose schedule of values comes from the scope items; the"
            " others are passed over. What the bid leaves out stays out of the contract and is"
            " told. Leave the day of signing empty while it is not signed: it counts from that day"
            " on. Ctrl S tells all of it before it is kept; u takes it back in one step."
        ),
        cautions=(
            "Check license and insurance before you sign; electrical, gas and plumbing need"
            " licensed trades. Ask an attorney.",
        ),
        fields=fields,
        act=act,
        preview=lambda found: award_sections(package, found),
        keep="award it",
        kept=lambda done: (
            f"Contract {done.contract.code} with {done.contract.contractor} over"
            f" {amount(done.contract.sum)} is made. u takes contract and award back.",
            done.notes[:2],
        ),
    )


def award_sections(package: PackageRow, found: Awarded) -> list[Section]:
    """The schedule of values, the forecast, who is passed over, what to look at."""
    made = found.contract
    lines = [
        f"{amount(one.value):>14}  {one.line} {one.name}, on {one.cost_line}" for one in found.lines
    ]
    whole = Line(f"{amount(made.sum):>14}  contract {made.code} {made.contractor}", "strong")
    rows = [("will cost", amount(found.forecast_before), amount(found.forecast_after))]
    passed = [f"· passed over: {', '.join(found.passed_over)}"] if found.passed_over else []
    bid = next((b for b in package.bids if b.contractor == made.contractor), None)
    return [
        Section("The schedule of values", [*lines, whole]),
        Section("What it does", [*with_and_without(rows, "now", "then"), *passed]),
        Section("Look at", [*bid_remarks(bid), *look_at(found.notes).lines]),
    ]


def bid_remarks(bid: BidRow | None) -> list[Line | str]:
    """What leveling says of the bid that is to win."""
    if bid is None:
        return []
    said: list[Line | str] = []
    if bid.far_below:
        said.append(Line("! far below the others: ask what was left out before you sign", "warn"))
    if bid.explain:
        names = {item.item: item.name or item.item for item in bid.items}
        off = ", ".join(names[item] for item in bid.explain)
        said.append(Line(f"~ 10 % or more off your own estimate: {off}; ask why", "warn"))
    if bid.plugs_cents:
        said.append(
            f"· leveled {amount(bid.leveled_cents)}: {amount(bid.plugs_cents)} of plugs is not in"
            " the contract"
        )
    return said


def signing(code: str, who: str) -> Entry[Signed]:
    """An awarded contract is signed."""
    return Entry(
        title=f"Contract {code} with {who} is signed",
        help=(
            "From the day of signing on the contract counts: its sum is signed, and what was"
            " entered as still to buy for its work comes off. Lines and sum stand from then on;"
            " what changes is a change to the contract. Ctrl S tells what it does."
        ),
        cautions=(
            "Check license and insurance before you sign; have an attorney read what you sign.",
        ),
        fields=lambda opened: (
            EntryField("signed", Day(), "the day on which both signed", opened.today, True),
        ),
        act=lambda given: sign_contract(
            given.project,
            code,
            given["signed"],
            given.today,
            given.found(Contract, code=code),
            given.only_try,
        ),
        preview=signed_sections,
        keep="it is signed",
        kept=lambda done: (
            f"Contract {code} is signed and counts. u takes it back.",
            done.notes[:2],
        ),
    )


def signed_sections(found: Signed) -> list[Section]:
    """The forecast before and after, what to look at."""
    before, after = found.forecast
    line = f"{amount(found.contract.sum)} is signed from {found.contract.signed} on"
    costs = with_and_without([("will cost", amount(before), amount(after))], "now", "then")
    return [Section("What it does", [line, *costs]), look_at(found.notes)]
