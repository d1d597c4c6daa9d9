"""Trades as sheets."""

from __future__ import annotations

from tracker.answers.trade_rows import BidRow, PackageRow
from tracker.answers.trades import TradesAnswer
from tracker.command_line.sheets import Col, Sheet, dollars, percent, short_day


def sheets(answer: TradesAnswer) -> list[Sheet]:
    """Who works here, whether their papers and words hold, what they cost, and the bids side by side."""
    return [people(answer), money(answer), contracts(answer), *(package(one) for one in answer.packages), *words(answer)]


def people(answer: TradesAnswer) -> Sheet:
    """Contractors with their next work, papers and words."""
    columns = (Col("contractor"), Col("trade"), Col("phone"), Col("next start", keep=True), Col("papers"), Col("word"))
    rows = tuple(
        (c.name, c.trade, c.phone, short_day(c.next_start), papers_words(c.missing_papers, c.paper_gaps), c.words)
        for c in answer.contractors
    )
    empty = "No contractor yet: `tracker set FILE contractors CODE name=NAME trade=TRADE`."
    return Sheet("Contractors", columns, rows, empty=empty)


def papers_words(missing: tuple[str, ...], gaps: tuple[str, ...]) -> str:
    """What is wrong with somebody's papers."""
    said = [f"! missing today: {', '.join(missing)}"] if missing else []
    return "; ".join([*said, *(f"~ {gap}" for gap in gaps if not gap.startswith("no "))])


def money(answer: TradesAnswer) -> Sheet:
    """Paid against earned."""
    columns = (
        Col("paid against earned"),
        Col("paid", right=True),
        Col("earned", right=True),
        Col("held back", right=True),
        Col("paid ahead", right=True),
    )
    known = [c for c in answer.contractors if c.paid_cents or c.earned_cents]
    rows = tuple(
        (c.name, dollars(c.paid_cents), dollars(c.earned_cents), dollars(c.held_cents), ahead(c.paid_ahead_cents)) for c in known
    )
    return Sheet("", columns, rows)


def ahead(cents: int) -> str:
    """Paid ahead; nothing where money is still owed."""
    return dollars(cents) if cents > 0 else ""


def contracts(answer: TradesAnswer) -> Sheet:
    """Contracts as signed, changed, now."""
    columns = (
        Col("contract"),
        Col("contractor"),
        Col("signed", keep=True),
        Col("as signed", right=True),
        Col("approved changes", right=True),
        Col("now", right=True),
    )
    rows = tuple(
        (
            c.code,
            c.contractor,
            short_day(c.signed) if c.is_signed else "not signed",
            dollars(c.sum_cents),
            dollars(c.changes_cents),
            dollars(c.now_cents),
        )
        for c in answer.contracts
    )
    return Sheet("Contracts" if rows else "", columns, rows)


def package(one: PackageRow) -> Sheet:
    """A package's bids side by side."""
    columns = (
        Col("bid by"),
        Col("state"),
        Col("as bid", right=True),
        Col("plugs", right=True),
        Col("leveled", right=True),
        Col("against median", right=True),
        Col(""),
    )
    rows = tuple(
        (
            bid.name,
            bid.state,
            dollars(bid.as_bid_cents),
            dollars(bid.plugs_cents) if bid.plugs_cents else "",
            dollars(bid.leveled_cents) or ("unknown" if bid.unknown_because else ""),
            percent(bid.spread_bp),
            bid_words(bid),
        )
        for bid in one.bids
    )
    said = [one.remark] if one.remark else []
    if one.own_estimate_cents is not None:
        said.append(f"own estimate {dollars(one.own_estimate_cents)}")
    if one.due:
        said.append(f"due {short_day(one.due)}")
    return Sheet(f"Package {one.code}: {one.name}", columns, rows, note="; ".join(said), empty="No bid yet.")


def bid_words(bid: BidRow) -> str:
    """What to know of a bid before comparing it."""
    said = []
    if bid.unknown_because:
        said.append(f"nobody priced {', '.join(bid.unknown_because)}")
    if bid.far_below:
        said.append("far below the others: ask whether something is missing")
    if bid.state == "received" and not bid.valid:
        said.append(f"held until {short_day(bid.valid_until)} only")
    if bid.state == "received" and bid.missing_papers:
        said.append(f"papers missing: {', '.join(bid.missing_papers)}")
    if bid.explain:
        said.append(f"explain {', '.join(bid.explain)}")
    return "; ".join(said)


def words(answer: TradesAnswer) -> list[Sheet]:
    """Words given that are open or were not kept, the latest first."""
    names = {c.code: c.name for c in answer.contractors}
    told = [w for w in answer.words if w.state not in ("kept",)]
    rows = tuple((names.get(w.contractor, w.contractor), w.activity, w.state, w.text) for w in reversed(told))
    return [Sheet("Words given", (Col("who"), Col("for"), Col("state"), Col("")), rows)] if rows else []
