"""The `tracker` command: finds the command that was asked for, runs it, and turns every error into
a line and a code.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from tracker import __version__
from tracker.command_line import errors
from tracker.command_line.shell import Shell

MODULES = {
    "demo": "demo",
    "new": "new",
    "open": "open_file",
    "show": "show",
    "print": "print_document",
    "import": "import_folder",
    "export": "export_folder",
    "snapshot": "snapshot",
    "set": "set_row",
    "add": "add_row",
    "undo": "undo",
    "redo": "redo",
    "history": "history",
    "check": "check",
    "backup": "backup",
    "restore": "restore",
    "templates": "templates",
}
"""Each command's module, in the order in which help lists them; the module's `command` is the
command.
"""

EPILOG = "\b\nExamples:\n  tracker demo\n  tracker show rink.db morning\n  tracker rink.db"


class Commands(click.Group):
    """The commands, each imported when it is asked for. A file's name alone opens that file."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All commands, in the order of a project's life."""
        return list(MODULES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """One command; None where there is no such one."""
        if cmd_name not in MODULES:
            return None
        module = importlib.import_module(f"tracker.command_line.{MODULES[cmd_name]}")
        found: click.Command = module.command
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names; `open` where the first word is a file."""
        first = args[0]
        if first not in MODULES:
            if not _looks_like_file(first):
                raise click.UsageError(
                    f"there is no command {first!r}, and no file of that name", ctx
                )
            args = ["open", *args]
        return super().resolve_command(ctx, args)


def _looks_like_file(word: str) -> bool:
    """Whether a word can only be meant as a project file."""
    return word.endswith(".db") or "/" in word or Path(word).exists()


@click.group(
    cls=Commands,
    invoke_without_command=True,
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, message="tracker %(version)s")
@click.pass_context
def tracker(ctx: click.Context) -> None:
    """Run the conversion of a commercial building: what is next, what it costs, whom to pay, why it
    is late.

    FILE is a project file (.db). `tracker FILE` opens it on the screen.

    Licensed trades, the lender, an attorney and the local code official govern; this tool only
    prepares.
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


def run(arguments: Sequence[str], shell: Shell) -> int:
    """Run one command line. The exit code; nothing escapes as a traceback."""
    _never_fail_on_encoding()
    try:
        code: Any = tracker.main(
            args=list(arguments), prog_name="tracker", standalone_mode=False, obj=shell
        )
        sys.stdout.flush()
    except (
        BaseException
    ) as error:  # the table of handlers knows every kind, and its last row is for defects
        told = errors.tell(error)
        _give_up_output(error)
        return told
    return code if isinstance(code, int) else errors.FINE


def _never_fail_on_encoding() -> None:
    """Marks that the terminal's encoding lacks are replaced rather than refused."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="replace")


def _give_up_output(error: BaseException) -> None:
    """Where nothing more can be written to the output, keep Python from trying at its end."""
    import os

    try:
        if not isinstance(error, (BrokenPipeError, SystemExit)):
            sys.stdout.flush()
            return
    except (OSError, ValueError):
        pass
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return
