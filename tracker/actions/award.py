"""A bid is awarded: it becomes a contract with a schedule of values, and the others of its package
are passed over.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass

from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.money.bought import less_bought
from tracker.money.change_effect import money_now
from tracker.money.records import Contract, ContractLine
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import parse_key, with_cells
from tracker.trades.award import AwardedScope, awarded_scope
from tracker.trades.leveling import leveled_package
from tracker.trades.papers import missing_kinds
from tracker.trades.records import Bid, Package
from tracker.values.money import dollars, plain_rate
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_of, new


@dataclass(frozen=True, slots=True)
class Awarded:
    """What an award did, or would do (step: None). forecast: at completion as it stood and as it
    stands, cents.

    notes: assumptions, and what is missing.
    """

    step: Step | None
    contract: Contract
    lines: tuple[ContractLine, ...]
    passed_over: tuple[str, ...]
    left_out: tuple[str, ...]
    forecast_before: int
    forecast_after: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AwardEntry:
    """Who gets a package. code: of the new contract. signed: None while it is not signed yet.

    retainage: thousandths of a percent, None: none is held.
    """

    package: str
    contractor: str
    code: str
    signed: dt.date | None
    retainage: int | None = None


def award(
    project: ProjectFile,
    entry: AwardEntry,
    today: dt.date,
    expected: Bid | None = None,
    only_try: bool = False,
) -> Awarded:
    """Award a package to a bidder, all in one step: the bid is awarded, the others are passed over,
    a contract is made.

    Where the owner entered what is still to buy on a line, what was foreseen for the items comes
    off it once the contract counts. expected: the bid as it was shown; StaleError if it is no
    longer so. only_try: tell what it would do and write nothing. ProblemError if there is no such
    bid, it has no price, the package is awarded already, the contract's code is taken, or an item
    has no cost line.
    """
    what = f"awarded {entry.package} to {entry.contractor}"[:120]
    return step(
        project, what, lambda before: _awarded(before, entry, today, expected), only_try=only_try
    )


def _awarded(
    before: Rows, entry: AwardEntry, today: dt.date, expected: Bid | None
) -> tuple[Sound, Awarded]:
    """The rows with the award, and what it does."""
    chosen, bid = _bid(before, entry.package, entry.contractor)
    won = dataclasses.replace(bid, state="awarded")
    if expected is not None and expected != bid:
        raise StaleError(expected, bid, won)
    _may_be_awarded(before, bid)
    leveled = next(
        b for b in leveled_package(before, chosen, 0).bids if b.contractor == entry.contractor
    )
    scope = awarded_scope(before, bid, leveled)
    contract = _contract(before, won, entry, scope.amount)
    lines = tuple(
        new(
            ContractLine,
            contract=entry.code,
            line=i.item,
            name=i.name,
            cost_line=i.cost_line,
            value=i.value,
        )
        for i in scope.items
    )
    bids = tuple(
        won if other is bid else _passed_over(other, entry.package) for other in before["bids"]
    )
    rows = {
        **before,
        "bids": bids,
        "contracts": (*before.get("contracts", ()), contract),
        "contract_lines": (*before.get("contract_lines", ()), *lines),
    }
    lowered: tuple[str, ...] = ()
    if contract.signed is not None and contract.signed <= today:
        rows["cost_lines"], lowered = less_bought(before.get("cost_lines", ()), scope.foreseen())
    after = sound(before, rows)
    forecasts = [money_now(books_of(one, today), entry.code).forecast for one in (before, after)]
    return after, Awarded(
        step=None,
        contract=contract,
        lines=lines,
        passed_over=tuple(
            b.contractor
            for b, was in zip(bids, before["bids"], strict=True)
            if b != was and b.contractor != entry.contractor
        ),
        left_out=scope.left_out,
        forecast_before=forecasts[0],
        forecast_after=forecasts[1],
        notes=(*lowered, *_notes(before, bid, contract, scope, today)),
    )


def _bid(rows: Rows, package: str, contractor: str) -> tuple[Package, Bid]:
    """The package and the contractor's bid for it. ProblemError if one of them is not there."""
    chosen = row_there(rows, Package, "package", "choose one of the bid packages", code=package)
    bids = {b.contractor: b for b in rows.get("bids", ()) if b.package == package}
    if contractor not in bids:
        do = f"the package has bids of {', '.join(bids)}" if bids else "enter the bid first"
        raise ProblemError(Problem("there is no such bid", do, "bids", f"{package}/{contractor}"))
    return chosen, bids[contractor]


def _may_be_awarded(rows: Rows, bid: Bid) -> None:
    """A bid can be awarded once it came in, and while nobody has the package. ProblemError
    if not.
    """
    key = f"{bid.package}/{bid.contractor}"
    winner = next(
        (
            b.contractor
            for b in rows.get("bids", ())
            if b.package == bid.package and b.state == "awarded"
        ),
        None,
    )
    if winner is not None:
        what = f"the package is already awarded to {winner}"
        raise ProblemError(
            Problem(
                what,
                "take that award back first, with its contract",
                "bids",
                key,
                "state",
                bid.state,
            )
        )
    if bid.state not in ("received", "passed over"):
        what = "the bidder declined" if bid.state == "declined" else "the bid has not come in yet"
        raise ProblemError(
            Problem(
                what, "enter the bid as received, with its price", "bids", key, "state", bid.state
            )
        )


def _contract(rows: Rows, bid: Bid, entry: AwardEntry, amount: int) -> Contract:
    """The new contract's row.

    ProblemError for a code that is taken or none, and for a rate that is none.
    """
    code, signed, retainage = entry.code, entry.signed, entry.retainage
    at = parse_key(Contract, code)
    if any(key_of(row) == at for row in rows.get("contracts", ())):
        raise ProblemError(
            Problem(
                "there is a contract of that code already", "choose another code", "contracts", code
            )
        )
    cells = {
        "contractor": bid.contractor,
        "package": bid.package,
        "signed": signed.isoformat() if signed else "",
        "retainage": "" if retainage is None else plain_rate(retainage),
    }
    row: Contract = with_cells(Contract, at, None, cells, rows)
    return dataclasses.replace(row, sum=amount)


def _passed_over(bid: Bid, package: str) -> Bid:
    """Another bid of the package after the award: passed over, unless the bidder declined."""
    return (
        dataclasses.replace(bid, state="passed over")
        if bid.package == package and bid.state != "declined"
        else bid
    )


def _notes(
    rows: Rows, bid: Bid, contract: Contract, scope: AwardedScope, today: dt.date
) -> tuple[str, ...]:
    """What was assumed, and what the owner should know before signing."""
    notes = list(scope.notes)
    day = contract.signed or today
    if bid.valid_until is not None and bid.valid_until < day:
        notes.append(
            f"the bid was valid until {bid.valid_until.isoformat()}: have the price confirmed in"
            " writing"
        )
    papers = [p for p in rows.get("papers", ()) if p.contractor == bid.contractor]
    if missing := missing_kinds(papers, day):
        notes.append(f"no {', no '.join(missing)} on file that holds on {day.isoformat()}")
    if contract.signed is None:
        notes.append(
            f"the contract over {dollars(contract.sum)} is not signed yet: it does not count until"
            " it is"
        )
    elif contract.signed > today:
        notes.append(f"the contract counts from {contract.signed.isoformat()} on")
    entered = {
        line.code for line in rows.get("cost_lines", ()) if line.left_to_buy and not line.bought_out
    }
    later = sorted(entered & scope.foreseen().keys())
    if later and (contract.signed is None or contract.signed > today):
        notes.append(
            f"lower what is still to buy on {', '.join(later)} by then: it was entered, and has"
            " these items in it"
        )
    return tuple(notes)
