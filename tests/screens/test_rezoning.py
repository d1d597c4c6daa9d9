"""Rezoning shows stages, hearings and cases; a hearing's outcome is one entry, an item is proven by
what lies behind it.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import project_of
from tests.screens.conftest import TODAY, Desk, Opened, below
from tests.screens.test_inspection_entries import said
from tracker.actions.folders import new_project
from tracker.actions.rows import save
from tracker.answers.rezoning import answer as rezoning_answer
from tracker.pages.rezoning import headline, page
from tracker.project_file.store import ProjectFile, open_file
from tracker.schedule.path.plan import compute
from tracker.screens.entry.event_form import EventForm
from tracker.screens.entry.evidence import hand_over
from tracker.screens.entry.preview_dialog import PreviewDialog
from tracker.screens.table.page_parts import screen_parts
from tracker.values.problems import ProblemError

FILES = {
    "project": (
        "name,start,status_date,opening,insurance_per_day\nInvented"
        " Hall,2027-01-04,2027-03-01,OPEN,200\n"
    ),
    "calendars": (
        "code,name,weekdays,recurrence,recurrence_from,cutoff_days,members\nWORK,,mon tue wed thu"
        " fri,,,,\nBOARD,Town council,,FREQ=MONTHLY;BYDAY=1TU,2027-01-01,20,5\n"
    ),
    "activities": (
        "code,name,kind,calendar,duration\nHEAR,Council"
        " hearing,gate,BOARD,1\nBUILD,Build,work,WORK,10\nOPEN,Opening,milestone,WORK,0\n"
    ),
    "links": "from,to\nHEAR,BUILD\nBUILD,OPEN\n",
    "hearings": (
        "code,activity,calendar,filed_on,hearing_on\nZ-1,HEAR,BOARD,2027-02-08,2027-03-02\n"
    ),
    "checklist": (
        "code,stage,title,waits_on,activity\nA-1,before you buy,Ask the"
        " board,,\nA-2,hearings,Letters mailed,A-1,HEAR\n"
    ),
    "answers": (
        "question,answer,source,checked_on\nowner_contractor,yes,letter,2027-01-04\n"
        "due_diligence_ends,2027-03-20,contract,2027-01-04\nway_out_if_continued,no,contract,2027-01-04\n"
    ),
}


@pytest.fixture
def hall(tmp_path: Path) -> Any:
    """A case before the council on Tue 2 March, whose meetings are on the first Tuesday of
    a month.
    """
    (tmp_path / "hall").mkdir()
    with project_of(tmp_path / "hall", FILES) as opened:
        yield opened


async def to_part(desk: Desk, code: str) -> None:
    """Go to the rows of a part of Rezoning."""
    await desk.press("4")
    view: Any = desk.app.screen.view  # type: ignore[attr-defined]
    view.names.go_to([one.code for one in view.parts].index(code))
    await desk.settle()
    view.list.focus()
    await desk.settle()


async def test_stages_and_items_stand_in_the_order_of_the_template(
    tmp_path: Path, opened: Opened
) -> None:
    new_project(tmp_path / "rink.db", template="assembly-to-workshops")
    with open_file(tmp_path / "rink.db") as project:
        answer = rezoning_answer(project, TODAY)
        async with opened((120, 40), on=project) as desk:
            await desk.press("4")
            assert "May an owner be the contractor here?" in desk.text
            for part in screen_parts(page(answer), True)[:9]:
                assert part.name[:18] in desk.text
            stage = answer.stages[0]
            await to_part(desk, f"stage:{stage.stage}")
            first = next(item for item in answer.items if item.stage == stage.stage)
            assert first.code in desk.text and first.title[:20] in desk.text
            await to_part(desk, "hearings")
            assert answer.hearings[0].name[:18] in desk.text and "File by" in below(desk)


async def test_the_headline_says_until_when_to_file_and_what_missing_it_costs(
    hall: ProjectFile,
) -> None:
    """Looked at on Fri 5 March: the next meeting of the first Tuesday is 6 April, its cut-off 20
    days before, Wed 17 March. Missed, it is heard on 4 May: 28 days later, building too, at 200.00
    a day.
    """
    save(hall, "project", "-", {"status_date": "2027-03-05"})
    assert headline(rezoning_answer(hall, TODAY)).startswith(
        "Z-1 is filed before BOARD: heard Tue 02 Mar 2027 · "
    )
    save(hall, "hearings", "Z-1", {"outcome": "withdrawn"})
    said = headline(rezoning_answer(hall, TODAY))
    assert said.startswith(
        "Council hearing: file by Wed 17 Mar 2027 (12 days left) or open 28 days later: $5,600.00 ·"
        " 0 of 2 items settled"
    )


async def test_days_of_the_purchase_stand_beside_the_hearing_calendar(
    hall: ProjectFile, opened: Opened
) -> None:
    async with opened((120, 40), on=hall) as desk:
        await to_part(desk, "hearings")
        assert (
            "17 days before the hearing on 2027-04-06; no right on record to leave if the hearing"
            " is continued" in below(desk)
        )


async def test_one_entry_moves_a_continued_hearing_logs_its_delay_and_tells_what_it_costs(
    hall: ProjectFile, opened: Opened
) -> None:
    """Heard Tue 2 March and continued to 6 April: 35 days, building after it; ten working days from
    7 April end on 20 April. At the meeting they would have ended on Tue 16 March. Lost: 25 working
    days from 2 March up to 6 April.
    """
    before = hall.tables()
    async with opened((120, 40), on=hall) as desk:
        await to_part(desk, "cases")
        await desk.press("o")
        entry: Any = desk.app.screen
        entry.field("outcome").put("continued")
        entry.field("date").put("3/2")
        await desk.settle()
        assert entry.field("continued_to").display and not entry.field("conditions").display
        entry.field("continued_to").put("4/6")
        entry.field("votes_for").put("5")
        await desk.settle()
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, PreviewDialog) and hall.tables() == before
        told = " ".join(desk.text.replace("│", " ").split())
        assert (
            "The opening moves from Tue 16 Mar 2027 to Tue 20 Apr 2027: 35 days later; that costs"
            " $7,000.00" in told
        )
        assert "waiting on authority, 25 working days lost, through authority" in told
        await desk.press("y")
        rows = hall.tables()
        assert [(h.code, h.outcome, h.hearing_on) for h in rows["hearings"]] == [
            ("Z-1", "continued", dt.date(2027, 3, 2)),
            ("Z-1-2", "", dt.date(2027, 4, 6)),
        ]
        assert [(d.activity, d.days, d.cause) for d in rows["delays"]] == [
            ("HEAR", 25, "waiting on authority")
        ]
        assert compute(rows).by_code()["HEAR"].early_start == dt.date(2027, 4, 6)
        await desk.press("u")
        assert hall.tables() == before


async def test_conditions_of_an_approval_become_items_of_the_checklist(
    hall: ProjectFile, opened: Opened
) -> None:
    save(hall, "checklist", "A-1", {"state": "not needed", "reason": "letter in hand"})
    save(hall, "checklist", "A-2", {"state": "proven", "evidence": "receipt 7"})
    async with opened((120, 40), on=hall) as desk:
        await to_part(desk, "cases")
        await desk.press("o")
        entry: Any = desk.app.screen
        entry.field("outcome").put("approved with conditions")
        entry.field("date").put("3/2")
        await desk.settle()
        entry.field("conditions").control.focus()
        await desk.settle()
        await desk.type("Hours 7 to 9")
        await desk.press("enter")
        await desk.type("Bike rack")
        await desk.press("ctrl+s", "k")
        made = [(i.code, i.title, i.stage) for i in hall.tables()["checklist"][2:]]
        assert made == [
            ("Z-1-C1", "Hours 7 to 9", "conditions of approval"),
            ("Z-1-C2", "Bike rack", "conditions of approval"),
        ]
        assert "conditions of approval" in desk.text


async def test_a_gate_opens_only_when_its_items_are_proven(
    hall: ProjectFile, opened: Opened
) -> None:
    async with opened((120, 40), on=hall) as desk:
        await to_part(desk, "cases")
        await desk.press("o")
        entry: Any = desk.app.screen
        entry.field("outcome").put("approved")
        entry.field("date").put("3/2")
        await desk.settle()
        await desk.press("ctrl+s")
        assert desk.app.screen is entry and "A-2" in desk.text
        assert "checklist items that it waits for" in " ".join(desk.text.split())


async def test_proven_asks_for_its_evidence_and_not_needed_for_a_reason(
    hall: ProjectFile, opened: Opened
) -> None:
    async with opened((100, 30), on=hall) as desk:
        await to_part(desk, "stage:before you buy")
        await desk.press("s")
        await desk.type("prov")
        await desk.press("enter", "ctrl+s")
        assert (
            "proven needs evidence" in desk.text and hall.tables()["checklist"][0].state == "open"
        )
        await desk.type("letter 7")
        await desk.press("ctrl+s")
        item = hall.tables()["checklist"][0]
        assert (item.state, item.evidence) == ("proven", "letter 7, 2027-03-05")
        await desk.press("u")
        assert hall.tables()["checklist"][0].state == "open"
        await desk.press("s")
        await desk.type("not needed")
        await desk.press("enter")
        await desk.type("no such use")
        await desk.press("escape")
        assert "Leave without keeping what you typed?" in desk.text
        await desk.press("n", "ctrl+s")
        assert hall.tables()["checklist"][0].reason == "no such use"
        await desk.press("s")
        await desk.type("asked")
        await desk.press("enter")
        assert (
            hall.tables()["checklist"][0].state == "asked"
            and hall.tables()["checklist"][0].reason == ""
        )


async def test_evidence_is_kept_by_fingerprint_opened_from_the_row_and_an_altered_one_is_told(
    hall: ProjectFile, opened: Opened
) -> None:
    paper = Path(hall.path).parent / "letter.txt"
    paper.write_text("You may. \x1b[31m[red]", encoding="utf-8")
    async with opened((100, 30), on=hall) as desk:
        await to_part(desk, "stage:before you buy")
        await desk.press("e")
        assert "No file is attached here" in said(desk)
        await desk.press("f")
        entry: Any = desk.app.screen
        entry.field("file").put(str(paper))
        await desk.settle()
        await desk.press("ctrl+s")
        kept = hall.tables()["files"][0]
        assert (kept.table, kept.key, kept.path) == ("checklist", "A-1", "letter.txt")
        assert kept.sha256 == hashlib.sha256(paper.read_bytes()).hexdigest()
        await desk.press("e")
        assert (
            isinstance(desk.app.screen, PreviewDialog)
            and "You may." in desk.text
            and "\x1b" not in desk.text
        )
        assert "as attached, SHA-256" in desk.text
        await desk.press("escape")
        paper.write_text("You may not.")
        await desk.press("e")
        assert "was altered since it was attached" in desk.text
        await desk.press("escape")
        paper.unlink()
        await desk.press("e")
        assert "the attached file is missing" in said(desk)


@pytest.mark.parametrize(
    ("name", "executable", "altered", "why"),
    [
        ("minutes.pdf", False, False, ""),
        ("minutes.desktop", False, False, "is no paper that is opened from here"),
        ("minutes.html", False, False, "is no paper that is opened from here"),
        ("bill.sh", True, False, "is no paper that is opened from here"),
        ("minutes.pdf", True, False, "is marked as a program"),
        ("minutes.pdf", False, True, "was altered since it was attached"),
        ("../outside.pdf", False, False, "lies outside of the project's folder"),
    ],
)
async def test_only_a_paper_as_it_was_attached_is_handed_to_the_system(
    hall: ProjectFile,
    opened: Opened,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    executable: bool,
    altered: bool,
    why: str,
) -> None:
    """What the system is asked to show it may as well run, and the list of papers comes along with
    any folder.
    """
    paper = Path(hall.path).parent / name
    paper.write_bytes(b"as it was")
    paper.chmod(0o755 if executable else 0o644)
    digest = hashlib.sha256(b"something else" if altered else b"as it was").hexdigest()
    save(hall, "files", "F1", {"table": "checklist", "key": "A-1", "path": name, "sha256": digest})
    handed: list[Path] = []
    monkeypatch.setattr("tracker.screens.entry.evidence.hand_over", handed.append)
    async with opened((120, 30), on=hall) as desk:
        await to_part(desk, "stage:before you buy")
        await desk.press("e")
        assert why in said(desk)
        assert handed == ([] if why else [paper])


def test_a_system_without_a_viewer_is_told_and_not_a_defect(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(ProblemError, match="open it by hand"):
        hand_over(tmp_path / "plan.pdf")


async def test_an_item_of_ones_own_begins_in_its_stage(hall: ProjectFile, opened: Opened) -> None:
    async with opened((100, 30), on=hall) as desk:
        await to_part(desk, "stage:hearings")
        await desk.press("a")
        form: Any = desk.app.screen
        assert form.field("stage").typed == "hearings"


async def test_keys_show_only_where_they_do_something(hall: ProjectFile, opened: Opened) -> None:
    async with opened((100, 30), on=hall) as desk:
        await to_part(desk, "cautions")
        await desk.press("s", "o", "e", "f")
        assert not isinstance(desk.app.screen, EventForm)
        assert "outcome" not in desk.text.split("\n")[-1]


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_every_part_can_be_read_at_every_size(
    opened: Opened, sample: Any, size: tuple[int, int]
) -> None:
    async with opened(size, on=sample) as desk:
        await desk.press("4", "shift+tab")
        view: Any = desk.app.screen.view  # type: ignore[attr-defined]
        for _ in view.parts:
            assert below(desk).strip()
            await desk.press("down")
