"""The entries for an item of the checklist: proven by a reference or a file, or not needed for a
reason.
"""

from __future__ import annotations

from tracker.actions.checklist import not_needed, prove_with_file, prove_with_reference
from tracker.actions.rows import Saved
from tracker.approvals.cautions import BY_ID
from tracker.screens.entry.declared import EntryField, Given, ShortEntry
from tracker.screens.entry.evidence import paper_of
from tracker.values.kinds import Day, Text
from tracker.values.problems import Problem, ProblemError


def proven(code: str, title: str) -> ShortEntry[Saved]:
    """An item is proven, by the file, by the reference, or by both."""
    refers, file = (
        "a letter's number, a page, a name",
        "path of a file, instead of a reference or beside it",
    )

    def act(given: Given) -> Saved:
        reference, paper = given["reference"].strip(), paper_of(given["file"])
        if paper:
            return prove_with_file(given.project, code, paper, given["dated"], reference=reference)
        if not reference:
            do = "give a reference with its date, or the path of a file"
            raise ProblemError(Problem("proven needs evidence", do, "checklist", code, "evidence"))
        return prove_with_reference(given.project, code, reference, given["dated"])

    return ShortEntry(
        title=f"Proven: {code} {title}",
        help=(
            "What proves the item: a reference (a letter's number, a page in the deed book) with"
            " its date, or a file. The file stays where it lies; its path and fingerprint are kept."
            " A gate in the plan opens only when its items are proven."
        ),
        cautions=(BY_ID["advice"].text,),
        fields=lambda opened: (
            EntryField("reference", Text(), refers, column="evidence"),
            EntryField("dated", Day(), "the date of the reference", opened.today, True),
            EntryField("file", Text(), file),
        ),
        act=act,
        kept=lambda done: (f"{code} is proven. u takes it back.", done.notes),
    )


def not_needing(code: str, title: str, reason: str = "") -> ShortEntry[Saved]:
    """An item does not apply."""
    return ShortEntry(
        title=f"Not needed: {code} {title}",
        help="Why the item does not apply here; the reason is printed with it.",
        fields=lambda opened: (EntryField("reason", Text(), "why it is not needed", reason, True),),
        act=lambda given: not_needed(given.project, code, given["reason"]),
        kept=lambda done: (f"{code} is not needed. u takes it back.", done.notes),
    )
