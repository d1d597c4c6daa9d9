"""Trades: who does what, for how much, and can I trust their papers?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tracker.answers.known_plan import plan_of
from tracker.answers.papers import PaperGap, gaps_in, planned_days
from tracker.answers.trade_rows import (
    BidItemRow,
    BidRow,
    ContractorRow,
    ContractRow,
    PackageRow,
    ValueRow,
    WordRow,
)
from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.exposure import Exposure, exposure
from tracker.money.lien_clock import lien_clocks
from tracker.money.missing_waivers import MissingWaiver, missing_waivers
from tracker.money.paid import Paid
from tracker.money.standing import Standing, standing
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import Plan
from tracker.tables.books import books_of
from tracker.trades import words
from tracker.trades.leveling import (
    COMPARED,
    LeveledBid,
    LeveledItem,
    LeveledPackage,
    leveled_packages,
)
from tracker.trades.papers import Span, missing_kinds
from tracker.trades.records import Bid, Contractor, WordGiven
from tracker.values.grouped import grouped
from tracker.values.money import dollars
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class TradesAnswer:
    """Contractors, bid packages with their leveled bids, contracts, words given; each in
    row order.
    """

    contractors: tuple[ContractorRow, ...]
    packages: tuple[PackageRow, ...]
    contracts: tuple[ContractRow, ...]
    words: tuple[WordRow, ...]


def answer(project: ProjectFile, today: dt.date) -> TradesAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> TradesAnswer:
    """The answer from a project's rows. plan: if it is computed already."""
    plan = plan or plan_of(rows)
    books = books_of(rows, today)
    stands = standing(books)
    known = stands.accounts
    return TradesAnswer(
        contractors=contractors(rows, today, plan, exposure(books, known), stands),
        packages=packages(rows, today, books.project.low_bid_share),
        contracts=contracts(books, known, stands.paid),
        words=tuple(word_row(word, today) for word in rows.get("words_given", ())),
    )


def contractors(
    rows: Rows, today: dt.date, plan: Plan, exposures: Sequence[Exposure], stands: Standing
) -> tuple[ContractorRow, ...]:
    """Everybody who works for the project."""
    liens = {clock.contractor: clock.until for clock in lien_clocks(stands.books)}
    waivers: dict[str, list[str]] = {}
    for one in missing_waivers(stands):
        waivers.setdefault(one.contractor, []).append(waiver_words(one))
    money = {one.contractor: one for one in exposures}
    gaps = grouped(list(gaps_in(rows, plan)), "contractor")
    planned = planned_days(rows, plan)
    return tuple(
        contractor_row(
            rows,
            today,
            who,
            money.get(who.code),
            gaps.get(who.code, ()),
            planned,
            tuple(waivers.get(who.code, ())),
            liens.get(who.code),
        )
        for who in rows.get("contractors", ())
    )


def contractor_row(
    rows: Rows,
    today: dt.date,
    who: Contractor,
    money: Exposure | None,
    gaps: Sequence[PaperGap],
    planned: Mapping[str, Mapping[str, Span]],
    waivers: tuple[str, ...],
    lien_until: dt.date | None,
) -> ContractorRow:
    """One contractor with papers, words and money."""
    given = words.kept(grouped(rows.get("words_given", ()), "contractor").get(who.code, ()), today)
    own = sorted((span[0], code) for code, span in planned.get(who.code, {}).items())
    signed = tuple(
        c.code for c in grouped(rows.get("contracts", ()), "contractor").get(who.code, ())
    )
    papers = grouped(rows.get("papers", ()), "contractor").get(who.code, ())
    return ContractorRow(
        code=who.code,
        name=who.name,
        trade=who.trade,
        phone=who.phone,
        email=who.email,
        contracts=signed,
        next_activity=own[0][1] if own else "",
        next_start=own[0][0] if own else None,
        missing_papers=missing_kinds(papers, today) if signed else (),
        paper_gaps=tuple(dict.fromkeys(g.text for g in gaps)),
        words_kept=given.kept,
        words_due=given.due,
        words=given.words(),
        paid_cents=money.paid if money else 0,
        earned_cents=money.earned if money else 0,
        held_cents=money.held if money else 0,
        paid_ahead_cents=money.paid_ahead if money else 0,
        waivers_missing=waivers,
        lien_until=lien_until,
    )


def waiver_words(one: MissingWaiver) -> str:
    """A waiver that is missing: for what, of whom, for how much."""
    sum_ = f" for {dollars(one.amount)}" if one.amount is not None else ""
    of = f" of {one.from_party}" if one.from_party else ""
    return (
        f"{one.contract}/{one.application}: {one.kind}{of}{sum_} through {one.through.isoformat()}"
    )


def packages(rows: Rows, today: dt.date, low_bid_share: int) -> tuple[PackageRow, ...]:
    """Every package with its bids side by side."""
    return tuple(package_row(rows, today, one) for one in leveled_packages(rows, low_bid_share))


def package_row(rows: Rows, today: dt.date, one: LeveledPackage) -> PackageRow:
    """One package."""
    bids: dict[str, Bid] = {
        b.contractor: b for b in rows.get("bids", ()) if b.package == one.package.code
    }
    names = {c.code: c.name for c in rows.get("contractors", ())}
    awarded = next((bid.contractor for bid in one.bids if bid.state == "awarded"), "")
    return PackageRow(
        code=one.package.code,
        name=one.package.name or one.package.code,
        trade=one.package.trade,
        due=one.package.due,
        own_estimate_cents=one.own_estimate,
        median_cents=one.median,
        few=one.few,
        awarded_to=awarded,
        remark=package_remark(one, awarded, today),
        bids=tuple(bid_row(rows, today, bid, bids[bid.contractor], names) for bid in one.bids),
    )


def package_remark(one: LeveledPackage, awarded: str, today: dt.date) -> str:
    """What a person should know of a package, in words."""
    if awarded:
        return f"awarded to {awarded}"
    compared = sum(bid.state in COMPARED for bid in one.bids)
    open_bids = sum(bid.state == "asked" for bid in one.bids)
    said = [f"fewer than three bids ({compared})"] if one.few else []
    if open_bids:
        late = one.package.due is not None and one.package.due < today
        said.append(f"{open_bids} asked and not in" + (", past their due day" if late else ""))
    return "; ".join(said)


def bid_row(
    rows: Rows, today: dt.date, one: LeveledBid, bid: Bid, names: Mapping[str, str]
) -> BidRow:
    """One bid beside the others."""
    explain = tuple(item.item for item in one.items if item.explain)
    return BidRow(
        contractor=one.contractor,
        name=names.get(one.contractor, one.contractor),
        state=one.state,
        received=bid.received,
        valid_until=bid.valid_until,
        valid=bid.valid_until is None or bid.valid_until >= today,
        as_bid_cents=one.as_bid,
        plugs_cents=None if one.leveled is None or one.as_bid is None else one.leveled - one.as_bid,
        leveled_cents=one.leveled,
        unknown_because=one.unknown_because,
        spread_bp=one.spread_bp,
        far_below=one.far_below,
        explain=explain,
        missing_papers=missing_kinds(
            (p for p in rows.get("papers", ()) if p.contractor == one.contractor), today
        ),
        items=tuple(item_row(item) for item in one.items),
    )


def item_row(item: LeveledItem) -> BidItemRow:
    """One item of a bid."""
    return BidItemRow(
        item=item.item,
        name=item.name,
        answer=item.answer,
        price_cents=item.price,
        plug_cents=item.plug,
        plug_from=item.plug_from,
        own_estimate_cents=item.own_estimate,
        off_estimate_bp=item.off_estimate_bp,
        explain=item.explain,
    )


def contracts(
    books: Books, known: Mapping[str, Account], payments: Paid
) -> tuple[ContractRow, ...]:
    """Every contract with what it is worth now, what was earned and what was paid."""
    found = []
    for code, contract in books.contracts.items():
        changes = sum(line.value for line in books.values.get(code, ()) if line.change)
        account = known[code]
        found.append(
            ContractRow(
                code=code,
                contractor=contract.contractor,
                package=contract.package,
                signed=contract.signed,
                is_signed=books.is_signed(contract),
                sum_cents=contract.sum,
                changes_cents=changes,
                now_cents=contract.sum + changes,
                earned_cents=account.earned,
                held_cents=account.held,
                paid_cents=sum(part.amount for part in payments.of_contract(code)),
                note=contract.note,
                lines=value_rows(books, account),
            )
        )
    return tuple(found)


def value_rows(books: Books, account: Account) -> tuple[ValueRow, ...]:
    """A contract's lines with what is earned and held on each today."""
    stands = {line.line: line for line in account.last.lines} if account.last else {}
    found = []
    for line in books.values.get(account.contract.code, ()):
        known = stands.get(line.line)
        held = known.held - account.released.get(line.line, 0) if known else 0
        found.append(
            ValueRow(
                line.line, line.name, line.cost_line, line.value, known.earned if known else 0, held
            )
        )
    return tuple(found)


def word_row(word: WordGiven, today: dt.date) -> WordRow:
    """One word given."""
    return WordRow(
        code=word.code,
        contractor=word.contractor,
        activity=word.activity,
        kind=word.kind,
        said_on=word.said_on,
        for_date=word.for_date,
        came_on=word.came_on,
        state=words.state_of(word, today),
        text=words.sentence(word, today),
        note=word.note,
    )
