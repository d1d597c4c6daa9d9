"""`tracker restore`: a backup in the file's place."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command("restore", epilog=example("tracker restore rink.db rink-copy.db"))
@file_argument
@click.argument("backup", type=click.Path(path_type=Path))
def command(file: Path, backup: Path) -> None:
    """Put a backup in the place of FILE, also where FILE is damaged or gone.

    The backup is looked through first, and stays as it is. What was in FILE stays beside it under
    another name. Attached papers that lie beside the backup and are missing beside FILE are put
    back; none is written over. Never copy a backup over a project file by hand: what still waits
    beside the file would be mixed into it.
    """
    from tracker.actions.carrying import counted
    from tracker.actions.restoring import restore
    from tracker.command_line.errors import warn
    from tracker.command_line.said import say_done

    done = restore(file, backup)
    warn([*(f"in the backup: {problem.sentence()}" for problem in done.faults), *done.remarks])
    last = f"; its last change: {done.last}" if done.last else ""
    kept = [f"What was there before is kept as {done.kept}."] if done.kept else []
    kept += [f"Put back from beside the backup: {counted(done.papers)}."] if done.papers else []
    say_done(f"{file} is now as {backup}{last}.", *kept)
