"""A contract is signed: from that day on it counts, and what was kept to buy its work comes off
where the owner entered it.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass
from typing import Any

from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.money.bought import less_bought
from tracker.money.change_effect import money_now
from tracker.money.records import Contract
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import with_row
from tracker.trades.papers import missing_kinds
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Signed:
    """What signing did, or would do (step: None). forecast: at completion before and after,
    cents.
    """

    step: Step | None
    contract: Contract
    forecast: tuple[int, int]
    notes: tuple[str, ...]


def sign_contract(
    project: ProjectFile,
    code: str,
    on: dt.date,
    today: dt.date,
    expected: Contract | None = None,
    only_try: bool = False,
) -> Signed:
    """Enter the day on which a contract was signed, in one step with what follows for what is still
    to buy.

    expected: the contract as it was shown; StaleError if it is no longer so. only_try: tell and
    write nothing. ProblemError where there is no such contract, it is signed already, it has no
    schedule of values or one that does not add up, or the day lies ahead.
    """
    given = (code, on, today, expected)
    return step(
        project,
        f"signed contract {code}",
        lambda before: _signed(before, *given),
        only_try=only_try,
    )


def _signed(
    before: Rows, code: str, on: dt.date, today: dt.date, expected: Contract | None
) -> tuple[Sound, Signed]:
    """The rows with the contract signed, and what that does."""
    old = row_there(before, Contract, "contract", "choose one that is there", code=code)
    new = dataclasses.replace(old, signed=on)
    if expected is not None and expected != old:
        raise StaleError(expected, old, new)
    if old.signed is not None:
        do = "what changes now is a change to the contract"
        raise ProblemError(
            Problem(f"the contract is signed since {old.signed}", do, "contracts", code, "signed")
        )
    if on > today:
        do = f"give a day through {today.isoformat()}; until it is signed it does not count"
        raise ProblemError(
            Problem("the day lies ahead", do, "contracts", code, "signed", on.isoformat())
        )
    lines = [line for line in before.get("contract_lines", ()) if line.contract == code]
    if not lines:
        do = "enter its lines first; its sum follows them until it is signed"
        raise ProblemError(
            Problem("the contract has no schedule of values", do, "contracts", code, "sum")
        )
    cost_lines, lowered = less_bought(before.get("cost_lines", ()), _foreseen(before, old, lines))
    after = sound(
        before,
        {
            **with_row(before, new, old),
            "cost_lines": cost_lines,
        },
    )
    forecasts = [money_now(books_of(rows, today), code).forecast for rows in (before, after)]
    return after, Signed(
        None, new, (forecasts[0], forecasts[1]), (*lowered, *_notes(before, new, on))
    )


def _foreseen(rows: Rows, contract: Contract, lines: list[Any]) -> dict[str, int]:
    """By cost line, the cents at which the owner had foreseen what is bought: own estimates of the
    package, else the values.
    """
    own = {
        item.item: item.own_estimate
        for item in rows.get("package_items", ())
        if item.package == contract.package
    }
    found: dict[str, int] = {}
    for line in lines:
        estimate = own.get(line.line)
        found[line.cost_line] = found.get(line.cost_line, 0) + (
            line.value if estimate is None else estimate
        )
    return found


def _notes(rows: Rows, contract: Contract, on: dt.date) -> tuple[str, ...]:
    """Papers that are missing, a price that no longer held."""
    papers = [p for p in rows.get("papers", ()) if p.contractor == contract.contractor]
    notes = []
    if missing := missing_kinds(papers, on):
        notes.append(f"no {', no '.join(missing)} on file that holds on {on.isoformat()}")
    bid = next(
        (
            b
            for b in rows.get("bids", ())
            if (b.package, b.contractor) == (contract.package, contract.contractor)
        ),
        None,
    )
    if bid is not None and bid.valid_until is not None and bid.valid_until < on:
        notes.append(
            f"the bid was valid until {bid.valid_until.isoformat()}: have the price confirmed in"
            " writing"
        )
    if contract.retainage is None:
        notes.append(
            f"nothing is held back of {dollars(contract.sum)}: say so in the contract, or enter a"
            " retainage before"
        )
    return tuple(notes)
