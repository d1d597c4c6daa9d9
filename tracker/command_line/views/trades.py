"""Trades as sheets."""

from __future__ import annotations

from tracker.answers.trade_rows import BidRow, PackageRow
from tracker.answers.trades import TradesAnswer
from tracker.command_line.sheets import Col, Sheet, all_whole, count, dollars, percent, short_day


def sheets(answer: TradesAnswer) -> list[Sheet]:
    """Who works here, whether their papers and words hold, what they cost, and the bids side by
    side.
    """
    return [
        people(answer),
        papers(answer),
        money(answer),
        contracts(answer),
        *(package(one) for one in answer.packages),
        *words(answer),
    ]


def people(answer: TradesAnswer) -> Sheet:
    """Contractors with their next work on site and how often they came on the day."""
    columns = (
        Col(""),
        Col("contractor"),
        Col("trade"),
        Col("phone", keep=True),
        Col("next on site", keep=True),
        Col("came on the day", right=True),
    )
    engaged = [
        c for c in answer.contractors if c.contracts or c.words_due or c.next_start or c.paid_cents
    ]
    rows = tuple(
        (
            "!" if c.missing_papers else "~" if c.paper_gaps else "",
            c.name,
            c.trade,
            c.phone,
            short_day(c.next_start),
            f"{c.words_kept} of {c.words_due}" if c.words_due else "",
        )
        for c in engaged
    )
    others = len(answer.contractors) - len(engaged)
    note = f"and {count(others, 'other')} without a contract; `--json` has them" if others else ""
    empty = "No contractor yet: `tracker add FILE contractors CODE name=NAME trade=TRADE`."
    if others:
        empty = "No contract yet: `tracker add FILE contracts CODE contractor=CONTRACTOR`."
    return Sheet("Contractors", columns, rows, note=note, empty=empty)


def papers(answer: TradesAnswer) -> Sheet:
    """What is wrong with somebody's papers, today or on planned days."""
    rows = []
    for c in answer.contractors:
        rows += [("!", c.name, f"{kind} is missing today") for kind in c.missing_papers]
        rows += [("~", c.name, gap) for gap in c.paper_gaps if not gap.startswith("no ")]
        rows += [("?", c.name, f"waiver missing for {words}") for words in c.waivers_missing]
    return Sheet(
        "Papers that do not hold, or are missing", (Col(""), Col(""), Col("")), tuple(rows)
    )


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
    whole = all_whole(
        [sum_ for c in known for sum_ in (c.paid_cents, c.earned_cents, c.held_cents)]
    )
    rows = tuple(
        (
            c.name,
            dollars(c.paid_cents, whole),
            dollars(c.earned_cents, whole),
            dollars(c.held_cents, whole),
            dollars(c.paid_ahead_cents, whole) if c.paid_ahead_cents > 0 else "",
        )
        for c in known
    )
    return Sheet("", columns, rows)


def contracts(answer: TradesAnswer) -> Sheet:
    """Contracts as signed, changed, now."""
    columns = (
        Col("contract", keep=True),
        Col("contractor"),
        Col("signed", keep=True),
        Col("as signed", right=True),
        Col("changes", right=True),
        Col("now", right=True),
    )
    names = {c.code: c.name for c in answer.contractors}
    whole = all_whole([sum_ for c in answer.contracts for sum_ in (c.sum_cents, c.now_cents)])
    rows = tuple(
        (
            c.code,
            names.get(c.contractor, c.contractor),
            short_day(c.signed) if c.is_signed else "not signed",
            dollars(c.sum_cents, whole),
            dollars(c.changes_cents, whole),
            dollars(c.now_cents, whole),
        )
        for c in answer.contracts
    )
    return Sheet("Contracts" if rows else "", columns, rows)


def package(one: PackageRow) -> Sheet:
    """A package's bids side by side."""
    columns = (
        Col("bid by"),
        Col("state", keep=True),
        Col("as bid", right=True),
        Col("plugs", right=True),
        Col("leveled", right=True),
        Col("off median", right=True),
    )
    whole = all_whole([sum_ for bid in one.bids for sum_ in (bid.as_bid_cents, bid.leveled_cents)])
    rows = tuple(
        (
            bid.name,
            bid.state,
            dollars(bid.as_bid_cents, whole),
            dollars(bid.plugs_cents, whole) if bid.plugs_cents else "",
            dollars(bid.leveled_cents, whole) or ("unknown" if bid.unknown_because else ""),
            percent(bid.spread_bp),
        )
        for bid in one.bids
    )
    said = [one.remark] if one.remark else []
    if one.own_estimate_cents is not None:
        said.append(
            f"own estimate {dollars(one.own_estimate_cents, all_whole([one.own_estimate_cents]))}"
        )
    if one.due:
        said.append(f"due {short_day(one.due)}")
    said += [f"{bid.name}: {told}" for bid in one.bids if (told := bid_words(bid))]
    return Sheet(
        f"Package {one.code}: {one.name}", columns, rows, note="; ".join(said), empty="No bid yet."
    )


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
        names = {item.item: item.name or item.item for item in bid.items}
        said.append(
            "10 % or more off our own estimate, to be explained:"
            f" {', '.join(names[item] for item in bid.explain)}"
        )
    return "; ".join(said)


def words(answer: TradesAnswer) -> list[Sheet]:
    """Words given that are open or were not kept, the latest first."""
    names = {c.code: c.name for c in answer.contractors}
    told = [w for w in answer.words if w.state not in ("kept",)]
    rows = tuple(
        (names.get(w.contractor, w.contractor), w.activity, w.state, w.text) for w in reversed(told)
    )
    return (
        [Sheet("Words given", (Col("who"), Col("for"), Col("state", keep=True), Col("")), rows)]
        if rows
        else []
    )
