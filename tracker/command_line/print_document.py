"""`tracker print`: a document as PDF, spreadsheet or CSV."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import day_of, example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command(
    "print",
    epilog=example(
        "tracker print rink.db budget --to budget.pdf",
        "tracker print rink.db application --number C04/8 --to application.xlsx",
    ),
)
@file_argument
@click.argument("document", metavar="DOCUMENT")
@click.option(
    "--to",
    "out",
    type=click.Path(path_type=Path),
    required=True,
    metavar="OUT",
    help="Where to write it.",
)
@click.option("--number", metavar="N", help="Which one, of several; the last one without it.")
@click.option("--replace", is_flag=True, help="Write over OUT if it is there already.")
@today_option
@click.pass_obj
def command(
    shell: Shell,
    file: Path,
    document: str,
    out: Path,
    number: str | None,
    replace: bool,
    today: dt.date | None,
) -> None:
    """Print a document to a file.

    One that is there already is left alone, unless --replace is given.

    DOCUMENT is one of budget, application, draw, lookahead, bids, schedule, checklist, hearings,
    inspections, slip, risk. The suffix of OUT tells the format: .pdf, .xlsx, .csv, .html, and .ics
    for days. N is a draw's number, an application's as CONTRACT/N or N, a bid package's code.
    Before a draw is printed the file is checked; a damaged one is refused.
    """
    from tracker.command_line.errors import warn
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done
    from tracker.reports.printing import kind_of, made
    from tracker.reports.written import place_problem, write_whole
    from tracker.values.problems import ProblemError

    kind = kind_of(document)
    if problem := place_problem(out, file, replace):
        raise ProblemError(problem)
    remarks: tuple[str, ...] = ()
    with opened(file) as project:
        if document == "draw":
            from tracker.actions.checking import before_a_draw

            remarks = before_a_draw(project)
        rows = project.tables()
        snapshots = project.snapshots() if kind.snapshots else {}
        day = day_of(shell, today, project)
    printed = made(
        rows, day, document, out.suffix.lower(), number, file.absolute().parent, snapshots
    )
    write_whole(out, printed.data, file, replace)
    warn((*remarks, *printed.notes))
    say_done(f"Printed {printed.title} to {out}.")
