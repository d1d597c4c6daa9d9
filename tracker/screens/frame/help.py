"""Help: what every key does here, how to type dates and money, what the marks mean, and the
cautions.
"""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.frame.keymap import PLACES, VIEWS, bindings, help_of, key_words
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.marks import EXPLAINED
from tracker.screens.table.plain import fit, plain

TYPED = (
    (
        "a date",
        (
            "2027-03-05 · 3/5 · fri · last fri · today · +10 and -3 are working days from the"
            " status date"
        ),
    ),
    ("money", "12500 · 12,500 · 12.5k · 1.2m · -300"),
    ("percent", "10 · 8.125 · 8.125%"),
    (
        "codes",
        (
            "one code, or several with a space between; F2 chooses from the rows, → takes the"
            " suggestion"
        ),
    ),
)
"""How people may type things; the form shows each back in full before it is kept."""

CAUTIONS = (
    (
        "Structure, falls over 6 ft, trenches over 5 ft: plan them with those who are qualified,"
        " before anybody goes near."
    ),
    (
        "Asbestos and lead: have them surveyed before demolition. Electrical and gas: licensed"
        " trades only."
    ),
    "Call before you dig. Hot work, dust and confined spaces need their own permit or plan.",
    (
        "Do not cover work before its inspection has passed, nor let anybody in before the"
        " certificate of occupancy."
    ),
    (
        "Do not pay without the waiver, nor agree to changes by word of mouth. Lien and notice"
        " deadlines: ask an attorney."
    ),
)
"""Short cautions; each also stands where it matters."""


class HelpScreen(ProjectScreen):
    """All keys by place, and everything else that one may want to know at a key's distance."""

    CSS_PATH = "help.tcss"
    BINDINGS = bindings("help")

    def __init__(self, desk: OpenProject, here: str) -> None:
        """here: the help of the screen from which it was asked for."""
        super().__init__(desk)
        self.here = here

    def compose_body(self) -> ComposeResult:
        """One page that scrolls."""
        yield Static("Help", classes="screen-title")
        with VerticalScroll(id="help", can_focus=True):
            if self.here:
                yield Static(plain(self.here), classes="help-text")
            for place, title in PLACES.items():
                if acts := help_of(place):
                    yield Static(title, classes="help-title")
                    yield Pairs((key_words(act), act.help) for act in acts)
            yield Static("In a list, without the mouse", classes="help-title")
            yield Pairs(MOVING)
            yield Static("How to type", classes="help-title")
            yield Pairs(TYPED)
            yield Static("Marks", classes="help-title")
            yield Pairs(EXPLAINED)
            yield Static("Questions", classes="help-title")
            yield Pairs((name, question) for _, name, question in VIEWS)
            yield Static("Caution", classes="help-title")
            yield Static("\n".join(CAUTIONS), classes="help-text")

    def on_mount(self) -> None:
        """Arrow keys scroll at once."""
        self.query_one("#help").focus()


MOVING = (
    ("↑ ↓, k j", "one row up or down"),
    ("PgUp, PgDn, Space", "a page up or down"),
    ("Home, End", "the first or last row"),
    ("← →", "sideways; the first columns stay"),
)
"""The keys that move in a list."""


KEYS = 18
"""Cells of the first words of a line."""


class Pairs(Widget):
    """Lines of two parts: the first stands out, the second goes on under itself where it is
    long.
    """

    DEFAULT_CSS = "Pairs { height: auto; }"

    def __init__(self, pairs: Iterable[tuple[str, str]]) -> None:
        super().__init__(classes="help-text")
        self.pairs = list(pairs)

    def lines(self, room: int) -> list[tuple[str, str]]:
        """The lines in so many cells."""
        found = []
        for first, words in self.pairs:
            parts = wrap(words, max(10, room - KEYS - 1)) or [""]
            found += [(first if not place else "", part) for place, part in enumerate(parts)]
        return found

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as they take."""
        return len(self.lines(width))

    def render(self) -> Content:
        """First parts bold."""
        parts = [
            Content.assemble((fit(left, KEYS), "bold"), " ", right)
            for left, right in self.lines(self.size.width)
        ]
        return Content("\n").join(parts)
