"""The page of Trades: contractors with contract, money, papers and words; contracts; words given;
each bid package.
"""

from __future__ import annotations

from tracker.answers.trade_rows import ContractorRow, ContractRow, WordRow
from tracker.answers.trades import TradesAnswer
from tracker.pages.bids import package_parts
from tracker.pages.cells import NOTHING, amount, day
from tracker.pages.marks import ASKS, AT_RISK, BLOCKS, DONE, FINE
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NOT_ON_PAPER,
    ON_SCREEN,
    ON_TEXT,
    Cell,
    Column,
    Line,
    Page,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    plain_rows,
    told,
)

WORD_MARKS = {
    "kept": DONE,
    "came late": AT_RISK,
    "not kept": BLOCKS,
    "today": ASKS,
    "to come": FINE,
    "no day": ASKS,
}
"""The mark of a word given by its state."""

ORDER = {"not kept": 0, "today": 1, "no day": 2, "to come": 3}
"""Words that were not kept or fall due today stand first."""

PEOPLE = (
    Column("name", "contractor", most=24),
    Column("trade", "trade", most=14),
    Column("papers", "papers", most=22),
    Column("waivers", "waivers", most=9, on=ON_SCREEN),
    Column("came", "came on the day", CODE, most=15),
    Column("earned", "earned", MONEY, on=ON_SCREEN),
    Column("paid", "paid", MONEY, on=ON_SCREEN),
    Column("ahead", "paid ahead", MONEY, on=ON_SCREEN),
    Column("next", "next work", most=30),
    Column("phone", "phone", CODE, most=16),
)
"""The columns of people. As text, what is wrong with papers and the money have lists of their
own.
"""

PAID = (
    Column("name", "contractor"),
    Column("paid", "paid", MONEY),
    Column("earned", "earned", MONEY),
    Column("held", "held back", MONEY),
    Column("ahead", "paid ahead", MONEY),
)

CONTRACTS = (
    Column("code", "contract", CODE, most=8),
    Column("name", "contractor", most=22),
    Column("day", "signed", DAY, most=15),
    Column("sum", "as signed", MONEY, late=True),
    Column("changes", "changes", MONEY, late=True),
    Column("now", "now", MONEY),
    Column("earned", "earned", MONEY),
    Column("paid", "paid", MONEY),
    Column("held", "held back", MONEY),
)

VALUES = (
    Column("value", "value", MONEY),
    Column("earned", "earned", MONEY),
    Column("held", "held back", MONEY),
    Column("line", "line", CODE),
    Column("name", ""),
)

WORDS_GIVEN = (
    Column("name", "who", most=24),
    Column("activity", "activity", CODE, most=12),
    Column("state", "state", CODE, most=9),
    Column("text", "said and came", most=40),
    Column("note", "note", most=40),
)


def page(answer: TradesAnswer) -> Page:
    """Who does what, on screen and as text: people first, then contracts and words, then bids."""
    names = {one.code: one.name for one in answer.contractors}
    return Page(
        "trades",
        (headline(answer),),
        (
            contractors(answer),
            wrong_papers(answer),
            paid(answer),
            contracts(answer, names),
            words(answer, names),
            *(part for one in answer.packages for part in package_parts(one)),
        ),
    )


def headline(answer: TradesAnswer) -> str:
    """How many have papers missing or running out, and how many are paid ahead."""
    missing = sum(bool(one.missing_papers) for one in answer.contractors)
    gaps = sum(bool(one.paper_gaps) for one in answer.contractors)
    ahead = sum(one.paid_ahead_cents > 0 for one in answer.contractors)
    waivers = sum(len(one.waivers_missing) for one in answer.contractors)
    said = f"{missing} under contract lack papers · {gaps} have work that no paper covers"
    return f"{said} · {waivers} waivers missing · {ahead} paid ahead"


def contractors(answer: TradesAnswer) -> Part:
    """Everybody who works for the project."""
    return Part(
        "contractors",
        "contractors",
        PEOPLE,
        tuple(contractor_row(one) for one in answer.contractors),
        empty="No contractor yet: `tracker add FILE contractors CODE name=NAME trade=TRADE`.",
        count=str(len(answer.contractors)),
        marked=True,
        table="contractors",
    )


def contractor_row(one: ContractorRow) -> Row:
    """One contractor: a missing paper blocks, one that runs out is a risk."""
    papers: Cell = "run out" if one.paper_gaps else "valid" if one.contracts else NOTHING
    if one.missing_papers:
        papers = Piece(f"lacks {', '.join(one.missing_papers)}", "strong")
    waivers = len(one.waivers_missing)
    cells = cells_of(
        one,
        PEOPLE,
        name=one.name or one.code,
        papers=papers,
        waivers=Piece(f"{waivers} missing", "strong") if waivers else NOTHING,
        came=f"{one.words_kept} of {one.words_due}" if one.words_due else NOTHING,
        ahead=ahead(one),
        next=f"{one.next_activity} {day(one.next_start)}" if one.next_activity else NOTHING,
    )
    mark = BLOCKS if one.missing_papers else AT_RISK if one.paper_gaps else FINE
    return Row(cells, "contractors", one.code, mark=mark, about=lambda: about(one))


def ahead(one: ContractorRow) -> Cell:
    """By how much somebody is paid ahead, where that is so."""
    return Piece(one.paid_ahead_cents, "strong") if one.paid_ahead_cents > 0 else None


def about(one: ContractorRow) -> list[Section]:
    """Contracts, money, papers, words of one contractor."""
    reach = " · ".join(part for part in (one.trade, one.phone, one.email) if part)
    contract = f"contracts: {', '.join(one.contracts)}" if one.contracts else "no contract"
    work = "no work planned"
    if one.next_activity:
        work = f"next: {one.next_activity} from {day(one.next_start)}"
    money = (
        f"earned {amount(one.earned_cents)}, held back {amount(one.held_cents)}, paid"
        f" {amount(one.paid_cents)}"
    )
    lines: list[Line | str] = [
        line for line in (reach, f"{contract} · {work}", one.words, money) if line
    ]
    if one.paid_ahead_cents > 0:
        lines.append(Line(f"! paid ahead by {amount(one.paid_ahead_cents)}", "warn"))
    elif one.paid_ahead_cents < 0:
        lines.append(f"still owed for verified work {amount(-one.paid_ahead_cents)}")
    papers: list[Line | str] = [Line(f"{m} {said}", "warn") for m, said in wrong(one)]
    waivers: list[Line | str] = [Line(f"{ASKS} {said}", "warn") for said in one.waivers_missing]
    if one.lien_until is not None:
        waivers.append(f"a lien can come until {day(one.lien_until)}: an attorney decides")
    if not papers and one.contracts:
        papers = ["what is needed today is valid"]
    return [
        Section(one.name or one.code, lines),
        Section("Papers", papers),
        Section("Waivers and liens", waivers),
    ]


def wrong(one: ContractorRow) -> list[tuple[str, str]]:
    """What is wrong with somebody's papers, today or on planned days, each with its mark."""
    return [
        *((BLOCKS, f"no valid paper today: {kind}") for kind in one.missing_papers),
        *((AT_RISK, gap) for gap in one.paper_gaps),
    ]


def wrong_papers(answer: TradesAnswer) -> Part:
    """What is wrong with papers and waivers, of everybody."""
    rows = [
        Row((one.name, said), mark=mark)
        for one in answer.contractors
        for mark, said in (
            *wrong(one),
            *((ASKS, f"waiver missing for {words}") for words in one.waivers_missing),
        )
    ]
    columns = (Column("name", ""), Column("words", ""))
    title = "papers that do not hold, or are missing"
    return Part("wrong_papers", title, columns, tuple(rows), marked=True, on=ON_TEXT)


def paid(answer: TradesAnswer) -> Part:
    """Paid against earned, of everybody for whom there is either."""
    rows = plain_rows(
        cells_of(one, PAID, ahead=ahead(one))
        for one in answer.contractors
        if one.paid_cents or one.earned_cents
    )
    return Part("paid", "paid against earned", PAID, rows, on=ON_TEXT)


def contracts(answer: TradesAnswer, names: dict[str, str]) -> Part:
    """Contracts as signed, changed, now, with what was earned and paid."""
    rows = tuple(
        Row(
            cells_of(
                one,
                CONTRACTS,
                name=names.get(one.contractor) or one.contractor,
                day=one.signed if one.is_signed else "not signed",
            ),
            "contracts",
            one.code,
            mark=FINE if one.is_signed else ASKS,
            about=told(*contract_about(one)),
        )
        for one in answer.contracts
    )
    return Part(
        "contracts",
        "contracts",
        CONTRACTS,
        rows,
        empty="No contract yet: `tracker add FILE contracts CODE contractor=CONTRACTOR`.",
        count=str(len(rows)),
        marked=True,
        table="contracts",
    )


def contract_about(one: ContractRow) -> tuple[Section, Part]:
    """Package, note, and the schedule of values with what is earned on each line."""
    said = [f"package {one.package}" if one.package else "no package", one.note]
    values = Part(
        "values",
        "schedule of values",
        VALUES,
        plain_rows(
            cells_of(line, VALUES, name=line.name if line.name != line.line else "")
            for line in one.lines
        ),
        empty=(
            "No lines yet: t, then contract lines under 8 Draws; leave signed empty until all are"
            " in."
        ),
    )
    return Section(f"{one.code} {one.contractor}", [line for line in said if line]), values


def words(answer: TradesAnswer, names: dict[str, str]) -> Part:
    """Words given, those that were not kept or fall due today first."""
    rows = tuple(
        word_row(one, names.get(one.contractor) or one.contractor)
        for one in sorted(answer.words, key=lambda word: ORDER.get(word.state, 4))
    )
    return Part(
        "words",
        "words given",
        WORDS_GIVEN,
        rows,
        count=str(len(rows)),
        marked=True,
        table="words_given",
        on=NOT_ON_PAPER,
    )


def word_row(one: WordRow, name: str) -> Row:
    """One word given."""
    said = Section(f"{one.code} {one.kind}", [f"{name}, {one.activity}: {one.text}", one.note])
    cells, mark = cells_of(one, WORDS_GIVEN, name=name), WORD_MARKS.get(one.state, FINE)
    return Row(cells, "words_given", one.code, mark=mark, about=told(said))
