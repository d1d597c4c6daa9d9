"""The program, loaded once and then forked for each command.

Each command is still a process of its own, with its own arguments, surroundings, folder, streams
and exit code; only loading Python and the program's modules is done once for all. The process that
is forked has opened no file and no database. What the start itself does is asked of processes that
start cold: `tracker(..., cold=True)`.
"""

from __future__ import annotations

import atexit
import gc
import importlib
import io
import json
import os
import pkgutil
import socket
import subprocess
import sys
import threading
import traceback
from pathlib import Path
from typing import IO, Any, NoReturn

ROOT = Path(__file__).resolve().parents[2]


class Warm:
    """The loaded program, as a process that waits to be told what to run."""

    def __init__(self, env: dict[str, str]) -> None:
        ours, theirs = socket.socketpair()
        command = [sys.executable, "-m", "tests.command_line.warm", str(theirs.fileno())]
        self.process = subprocess.Popen(
            command, env=env, cwd=ROOT, stdin=subprocess.DEVNULL, pass_fds=[theirs.fileno()]
        )
        theirs.close()
        self.env = env
        self.line = ours.makefile("rw", encoding="utf-8")
        self.one_at_a_time = threading.Lock()
        atexit.register(self.end)

    def run(self, words: list[str], env: dict[str, str], cwd: Path, out: str, err: str) -> int:
        """Run one command; its exit code, or minus the signal that ended it.

        out, err: the files to which its streams go.
        """
        with self.one_at_a_time:
            told = {"words": words, "env": env, "cwd": str(cwd), "out": out, "err": err}
            self.line.write(json.dumps(told) + "\n")
            self.line.flush()
            return int(self.line.readline())

    def end(self) -> None:
        """Let the process go."""
        self.line.close()
        self.process.wait(timeout=10)


def load() -> None:
    """Import what any command may need; the screen's own parts come only with the screen."""
    import tracker

    for module in pkgutil.walk_packages(tracker.__path__, "tracker."):
        if not module.name.startswith("tracker.screens") and module.name != "tracker.__main__":
            importlib.import_module(module.name)
    for name in ("holidays", "icalendar", "numpy", "pypdf", "reportlab", "sqlmodel", "xlsxwriter"):
        importlib.import_module(name)


def serve(line: IO[str], number: int) -> None:
    """Fork a process for each command that is told, and say what came of it."""
    for told in line:
        child = os.fork()
        if child == 0:
            os.close(number)
            _be(json.loads(told))
        _, status = os.waitpid(child, 0)
        line.write(f"{os.waitstatus_to_exitcode(status)}\n")
        line.flush()


def _be(told: dict[str, Any]) -> NoReturn:
    """Be that command, from its streams to its end, as Python itself would begin and end it."""
    code = 1
    try:
        _begin(told)
        from tracker.start import main

        try:
            main()
            code = 0
        except SystemExit as left:
            code = left.code if isinstance(left.code, int) else int(left.code is not None)
        threading._shutdown()  # type: ignore[attr-defined]
        atexit._run_exitfuncs()
        sys.stdout.flush()
    except BaseException:
        traceback.print_exc()
    os._exit(code)


def _begin(told: dict[str, Any]) -> None:
    for number, path in ((0, os.devnull), (1, told["out"]), (2, told["err"])):
        opened = os.open(path, os.O_RDWR)
        os.dup2(opened, number)
        os.close(opened)
    said = sys.stdout.encoding
    sys.stdin = io.TextIOWrapper(open(0, "rb", closefd=False), said)  # noqa: SIM115
    sys.stdout = io.TextIOWrapper(open(1, "wb", closefd=False), said, sys.stdout.errors)  # noqa: SIM115
    sys.stderr = io.TextIOWrapper(
        open(2, "wb", 0, closefd=False),  # noqa: SIM115
        said,
        "backslashreplace",
        write_through=True,
    )
    os.environ.clear()
    os.environ.update(told["env"])
    os.chdir(told["cwd"])
    sys.argv = [str(ROOT / "tracker" / "__main__.py"), *told["words"]]


if __name__ == "__main__":
    load()
    gc.collect()
    gc.freeze()
    with socket.socket(fileno=int(sys.argv[1])) as theirs, theirs.makefile("rw") as line:
        serve(line, theirs.fileno())
