"""The frame of every screen: a caution at the foot that stays, the keys under it, undo, redo,
history, back.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar, cast

from textual import events
from textual.app import ComposeResult, RenderResult
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from tracker.screens.frame.keymap import BY_ID, Act, key_words
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.painting import NearCompositor
from tracker.screens.table.plain import plain, width
from tracker.values.problems import Problem, ProblemError

if TYPE_CHECKING:
    from tracker.actions.opening import Step
    from tracker.screens.entry.declared import ShortEntry
    from tracker.screens.frame.opens import Opens

Done = TypeVar("Done")

CAUTION = "Licensed trades and local code govern; lender, attorney and officials decide."


class KeysLine(Widget):
    """The keys that work here, the most useful first, in one line; `?` shows them all."""

    def __init__(self) -> None:
        super().__init__(id="keys")
        self.shown: list[tuple[int, int, str]] = []

    def on_mount(self) -> None:
        """Follow what the focus makes possible."""
        self.screen.bindings_updated_signal.subscribe(self, lambda _: self.refresh())

    def on_unmount(self) -> None:
        """Stop following."""
        self.screen.bindings_updated_signal.unsubscribe(self)

    def acts(self) -> list[Act]:
        """The actions that are possible now and belong here, in the order of their weight."""
        found = {
            bound.binding.id: BY_ID[bound.binding.id]
            for bound in self.screen.active_bindings.values()
            if bound.binding.id in BY_ID
        }
        return sorted((act for act in found.values() if act.weight), key=lambda act: act.weight)

    def render(self) -> RenderResult:
        """As many keys as fit; help always."""
        helping = BY_ID["help"]
        acts = [act for act in self.acts() if act.id != "help"]
        room = self.size.width - len(self._words(helping)) - 1
        line, at, self.shown = Content(""), 0, []
        for act in acts:
            words = self._words(act)
            if at + width(words) + 2 > room:
                break
            line, at = self._with(line, act, at)
        line, at = self._with(line, helping, at)
        return line

    def _with(self, line: Content, act: Act, at: int) -> tuple[Content, int]:
        """The line with one more key."""
        key = key_words(act).split(",")[0]
        words = self._words(act)
        self.shown.append((at, at + len(words), act.keys.split(",")[0]))
        return Content.assemble(line, (key, "bold"), f" {act.label}  "), at + len(words) + 2

    def _words(self, act: Act) -> str:
        """A key and its word."""
        return f"{key_words(act).split(',')[0]} {act.label}"

    def on_click(self, event: events.Click) -> None:
        """A click on a key presses it."""
        for start, end, key in self.shown:
            if start <= event.x < end:
                self.app.simulate_key(key)


def defect(error: BaseException | None) -> Problem:
    """What was no problem of the input but one of this program: said so, and nothing typed is lost
    over it.
    """
    words = f"{type(error).__name__}: {error}" if error else "no reason given"
    return Problem(
        what=f"a defect of this program stopped this ({words})",
        do="nothing was kept; please report it",
    )


class ProjectScreen(Screen[Any]):
    """A screen with the caution and the keys at its foot, and the actions that work on the whole
    project.
    """

    def __init__(self, desk: OpenProject) -> None:
        super().__init__()
        self._compositor = NearCompositor()
        self.desk = desk

    def compose(self) -> ComposeResult:
        """The body above, caution and keys below."""
        yield from self.compose_body()
        yield Static(plain(CAUTION), id="caution")
        yield KeysLine()

    def compose_body(self) -> ComposeResult:
        """The screen's own widgets."""
        yield from ()

    def refresh_shown(self) -> None:
        """The project changed: show it as it is now."""

    @property
    def help_words(self) -> str:
        """What one does here; blank where the keys say all."""
        return self.HELP or ""

    def loses_text(self) -> bool:
        """Whether leaving now would lose something typed."""
        return False

    def say(self, words: str, wrong: bool = False) -> None:
        """Say something in passing, as plain text."""
        self.notify(
            plain(words).plain, severity="warning" if wrong else "information", markup=False
        )

    @property
    def opens(self) -> Opens:
        """What the app opens and tells for its screens."""
        return cast("Opens", self.app)

    def enter(self, entry: ShortEntry[Any]) -> None:
        """Ask for what is entered, and keep it."""
        self.opens.open_entry(entry)

    def in_thread(
        self,
        work: Callable[[], Done],
        then: Callable[[Done], None],
        failed: Callable[[ProblemError], None],
    ) -> None:
        """Do work with the project in a thread; then, or what failed, runs where widgets may be
        touched.
        """
        self._awaited = getattr(self, "_awaited", {})
        worker = self.run_worker(work, thread=True, group="action", exit_on_error=False)
        self._awaited[worker] = (then, failed)

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Work in a thread came to its end."""
        awaited = getattr(self, "_awaited", {})
        if event.worker not in awaited or event.state not in (
            WorkerState.SUCCESS,
            WorkerState.ERROR,
        ):
            return
        then, failed = awaited.pop(event.worker)
        if event.state is WorkerState.SUCCESS:
            then(event.worker.result)
        elif isinstance(event.worker.error, ProblemError):
            failed(event.worker.error)
        else:
            failed(ProblemError(defect(event.worker.error)))

    def complain(self, error: ProblemError) -> None:
        """Say what stops an action."""
        if not self.opens.offer_another_way(self, error):
            self.say("\n".join(problem.sentence() for problem in error.problems[:3]), wrong=True)

    # Actions of every screen

    def action_undo(self) -> None:
        """Take the last change back."""
        self.in_thread(self.desk.undo, lambda step: self._stepped("Took back", step), self.complain)

    def action_redo(self) -> None:
        """Make the change again."""
        self.in_thread(
            self.desk.redo, lambda step: self._stepped("Made again", step), self.complain
        )

    def _stepped(self, did: str, step: Step) -> None:
        """Tell which step was taken, and show the project as it is now."""
        self.say(f"{did}: {step.what}")
        self.opens.project_changed()

    def action_history(self) -> None:
        """Show every change."""
        self.opens.open_history()

    def action_back(self) -> None:
        """Back to where one came from."""
        self.dismiss(None)
