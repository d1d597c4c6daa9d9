"""The words and rows of Trades on people, contracts and words given."""

from __future__ import annotations

from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.table.marks import ASKS, AT_RISK, BLOCKS, DONE, FINE, tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

WORD_MARKS = {
    "kept": DONE,
    "came late": AT_RISK,
    "not kept": BLOCKS,
    "today": ASKS,
    "to come": FINE,
    "no day": ASKS,
}
"""The mark of a word given by its state."""


def headline(answer: Any) -> str:
    """How many have papers missing or running out, and how many are paid ahead."""
    missing = sum(bool(one.missing_papers) for one in answer.contractors)
    gaps = sum(bool(one.paper_gaps) for one in answer.contractors)
    ahead = sum(one.paid_ahead_cents > 0 for one in answer.contractors)
    waivers = sum(len(one.waivers_missing) for one in answer.contractors)
    said = f"{missing} under contract lack papers · {gaps} have work that no paper covers"
    return f"{said} · {waivers} waivers missing · {ahead} paid ahead"


def contractors_part(answer: Any, wide: bool) -> Part:
    """Everybody who works for the project."""
    columns = [
        Col("", width=1),
        Col("contractor", most=30 if wide else 22),
        Col("trade", most=14),
        Col("papers", most=22),
    ]
    columns += [
        Col("waivers", most=9),
        Col("came on the day", most=15),
        Col("earned", right=True),
        Col("paid", right=True),
    ]
    columns += [Col("paid ahead", right=True), Col("next work", most=30), Col("phone", most=16)]
    rows = [contractor_row(one) for one in answer.contractors]
    return Part("contractors", "contractors", "contractors", columns, rows, str(len(rows)))


def contractor_row(one: Any) -> PartRow:
    """One contractor: a missing paper blocks, one that runs out is a risk."""
    mark = BLOCKS if one.missing_papers else AT_RISK if one.paper_gaps else FINE
    papers = (
        f"lacks {', '.join(one.missing_papers)}"
        if one.missing_papers
        else "run out"
        if one.paper_gaps
        else "valid"
    )
    if not one.contracts and not one.paper_gaps:
        papers = NOTHING
    ahead = one.paid_ahead_cents > 0
    cells: list[Cell] = [
        Piece(mark, tone_of(mark)),
        one.name or one.code,
        one.trade,
        Piece(papers, "strong" if one.missing_papers else ""),
        Piece(f"{len(one.waivers_missing)} missing", "strong") if one.waivers_missing else NOTHING,
        f"{one.words_kept} of {one.words_due}" if one.words_due else NOTHING,
        amount(one.earned_cents),
        amount(one.paid_cents),
        Piece(amount(one.paid_ahead_cents) if ahead else NOTHING, "strong" if ahead else ""),
        f"{one.next_activity} {day(one.next_start)}" if one.next_activity else NOTHING,
        one.phone,
    ]
    return PartRow("contractors", one.code, cells, lambda: contractor_about(one))


def contractor_about(one: Any) -> list[Section]:
    """Contracts, money, papers, words of one contractor."""
    reach = " · ".join(part for part in (one.trade, one.phone, one.email) if part)
    next_work = (
        f"next: {one.next_activity} from {day(one.next_start)}"
        if one.next_activity
        else "no work planned"
    )
    contract = f"contracts: {', '.join(one.contracts)}" if one.contracts else "no contract"
    money = (
        f"earned {amount(one.earned_cents)}, held back {amount(one.held_cents)}, paid"
        f" {amount(one.paid_cents)}"
    )
    lines: list[Line | str] = [reach, f"{contract} · {next_work}", one.words, money]
    if one.paid_ahead_cents > 0:
        lines.append(Line(f"! paid ahead by {amount(one.paid_ahead_cents)}", "warn"))
    elif one.paid_ahead_cents < 0:
        lines.append(f"still owed for verified work {amount(-one.paid_ahead_cents)}")
    lacks = [Line(f"! no valid paper today: {kind}", "warn") for kind in one.missing_papers]
    gaps = [Line(f"~ {text}", "warn") for text in one.paper_gaps]
    papers: list[Line | str] = [*lacks, *gaps]
    if not papers and one.contracts:
        papers = ["what is needed today is valid"]
    waivers: list[Line | str] = [Line(f"? {words}", "warn") for words in one.waivers_missing]
    if one.lien_until is not None:
        waivers.append(f"a lien can come until {day(one.lien_until)}: an attorney decides")
    return [
        Section(one.name or one.code, [line for line in lines if line]),
        Section("Papers", papers),
        Section("Waivers and liens", waivers),
    ]


def contracts_part(answer: Any) -> Part:
    """Contracts with what was earned and paid."""
    columns = [Col("", width=1), Col("contract", most=30, grow=True), Col("signed", most=15)]
    columns += [
        Col(name, right=True)
        for name in ("now", "earned", "paid", "held back", "as signed", "changes")
    ]
    rows = []
    for one in answer.contracts:
        mark = FINE if one.is_signed else ASKS
        money = (
            one.now_cents,
            one.earned_cents,
            one.paid_cents,
            one.held_cents,
            one.sum_cents,
            one.changes_cents,
        )
        cells: list[Cell] = [Piece(mark, tone_of(mark)), f"{one.code} {one.contractor}"]
        cells += [
            day(one.signed) if one.is_signed else "not signed",
            *(amount(cents) for cents in money),
        ]
        note = contract_about(one)
        rows.append(PartRow("contracts", one.code, cells, lambda note=note: note))  # type: ignore[misc]
    return Part("contracts", "contracts", "contracts", columns, rows, str(len(rows)))


def contract_about(one: Any) -> list[Section]:
    """Package, note, and the schedule of values with what is earned on each line."""
    head = [f"package {one.package}" if one.package else "no package", one.note]
    lines: list[Line | str] = [
        Line(f"{'value':>14} {'earned':>14} {'held back':>12}  line", "muted")
    ]
    for line in one.lines:
        figures = (
            f"{amount(line.value_cents):>14} {amount(line.earned_cents):>14}"
            f" {amount(line.held_cents):>12}"
        )
        lines.append(
            f"{figures}  {line.line} {line.name}"
            if line.name != line.line
            else f"{figures}  {line.line}"
        )
    none = [
        Line(
            "no lines yet: t, then contract lines under 8 Draws; leave signed empty until all"
            " are in",
            "warn",
        )
    ]
    return [
        Section(f"{one.code} {one.contractor}", [line for line in head if line]),
        Section("Schedule of values", lines if one.lines else none),
    ]


def words_part(answer: Any) -> Part:
    """Words given, those that were not kept or fall due today first."""
    order = {"not kept": 0, "today": 1, "no day": 2, "to come": 3}
    columns = [
        Col("", width=1),
        Col("who", most=20, grow=True),
        Col("activity", most=12),
        Col("state", most=9),
    ]
    columns += [Col("said and came", most=40), Col("note", most=40)]
    rows = []
    for one in sorted(answer.words, key=lambda word: order.get(word.state, 4)):
        mark = WORD_MARKS.get(one.state, FINE)
        cells: list[Cell] = [
            Piece(mark, tone_of(mark)),
            one.contractor,
            one.activity,
            one.state,
            one.text,
            one.note,
        ]
        about = [
            Section(
                f"{one.code} {one.kind}",
                [f"{one.contractor}, {one.activity}: {one.text}", one.note],
            )
        ]
        rows.append(PartRow("words_given", one.code, cells, lambda about=about: about))  # type: ignore[misc]
    return Part("words", "words given", "words_given", columns, rows, str(len(rows)))
