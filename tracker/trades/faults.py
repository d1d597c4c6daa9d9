"""What rows of the trades' tables must obey together."""

from __future__ import annotations

from tracker.trades.records import Bid, Paper, WordGiven
from tracker.values.problems import Problem
from tracker.values.records import Rows, key_text


def faults(rows: Rows) -> list[Problem]:
    """Dates that run backwards, and more than one award in a package."""
    found: list[Problem] = []
    found.extend(p for paper in rows.get("papers", ()) if (p := _paper_fault(paper)))
    found.extend(p for word in rows.get("words_given", ()) if (p := _word_fault(word)))
    found.extend(_award_faults(rows))
    return found


def _paper_fault(paper: Paper) -> Problem | None:
    """A paper runs out on or after the day from which it holds."""
    if paper.from_ and paper.to and paper.to < paper.from_:
        return Problem(
            what="the paper runs out before it begins",
            do=f"give a day on or after {paper.from_.isoformat()}, or correct `from`",
            table="papers",
            key=key_text(paper),
            column="to",
            value=paper.to.isoformat(),
        )
    return None


def _word_fault(word: WordGiven) -> Problem | None:
    """Nobody comes before having said so; a word is given for the day on which it is said, or for a
    later one.
    """
    if word.said_on and word.for_date and word.for_date < word.said_on:
        return Problem(
            what="the word was given for a day before it was said",
            do=f"give a day on or after {word.said_on.isoformat()}, or correct `said_on`",
            table="words_given",
            key=key_text(word),
            column="for_date",
            value=word.for_date.isoformat(),
        )
    return None


def _award_faults(rows: Rows) -> list[Problem]:
    """A package is awarded to one bidder."""
    awarded: dict[str, str] = {}
    found = []
    for bid in rows.get("bids", ()):
        first = _other_award(awarded, bid)
        if first:
            found.append(
                Problem(
                    what=f"the package is already awarded to {first}",
                    do="leave one bid awarded and mark the others as passed over",
                    table="bids",
                    key=key_text(bid),
                    column="state",
                    value=bid.state,
                )
            )
    return found


def _other_award(awarded: dict[str, str], bid: Bid) -> str:
    """Who has the package already, if this bid is awarded too; else the award is remembered."""
    if bid.state != "awarded":
        return ""
    if bid.package in awarded:
        return awarded[bid.package]
    awarded[bid.package] = bid.contractor
    return ""
