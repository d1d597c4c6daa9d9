"""Help: what every key does here, how to type dates and money, what the marks mean, and the cautions."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tracker.screens.actions import PLACES, VIEWS, bindings, help_of, key_words
from tracker.screens.desk import Desk
from tracker.screens.frame import Framed
from tracker.screens.marks import EXPLAINED
from tracker.screens.plain import fit, plain

TYPED = (
    ("a date", "2027-03-05 · 3/5 · fri · last fri · today · +10 and -3 are working days from the status date"),
    ("money", "12500 · 12,500 · 12.5k · 1.2m · -300"),
    ("percent", "10 · 8.125 · 8.125%"),
    ("codes", "one code, or several with a space between; F2 chooses from the rows, → takes the suggestion"),
)
"""How people may type things; the form shows each back in full before it is kept."""

CAUTIONS = (
    "Structure, falls over 6 ft, trenches over 5 ft: plan them with those who are qualified, before anybody goes near.",
    "Asbestos and lead: have them surveyed before demolition. Electrical and gas: licensed trades only.",
    "Call before you dig. Hot work, dust and confined spaces need their own permit or plan.",
    "Do not cover work before its inspection has passed, nor let anybody in before the certificate of occupancy.",
    "Do not pay without the waiver, nor agree to changes by word of mouth. Lien and notice deadlines: ask an attorney.",
)
"""Short cautions; each also stands where it matters."""


class HelpScreen(Framed):
    """All keys by place, and everything else that one may want to know at a key's distance."""

    CSS_PATH = "help.tcss"
    BINDINGS = bindings("help")

    def __init__(self, desk: Desk, here: str) -> None:
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
                    yield Static(Content("\n").join(_line(key_words(act), act.help) for act in acts), classes="help-text")
            yield Static("In a list, without the mouse", classes="help-title")
            yield Static(Content("\n").join(_line(keys, words) for keys, words in MOVING), classes="help-text")
            yield Static("How to type", classes="help-title")
            yield Static(Content("\n").join(_line(what, how) for what, how in TYPED), classes="help-text")
            yield Static("Marks", classes="help-title")
            yield Static(Content("\n").join(_line(mark, words) for mark, words in EXPLAINED), classes="help-text")
            yield Static("Questions", classes="help-title")
            yield Static(Content("\n").join(_line(name, question) for _, name, question in VIEWS), classes="help-text")
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


def _line(left: str, right: str) -> Content:
    """A line with its first word standing out."""
    return Content.assemble((fit(left, 18), "bold"), " ", right)
