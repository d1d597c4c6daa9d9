"""The register of everything that one can do on the screens.

Keys, footer, command palette and help read this list and nothing else: an action that is not here does not exist, and
one that is here can be found in all four places.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding, BindingType


@dataclass(frozen=True)
class Act:
    """One thing that one can do.

    id: its name in the register. keys: the keys that do it, the first one shown. do: the method behind it, as Textual
    writes actions. label: a word or two for the footer. help: what it does, for help and palette. where: the place in
    which the keys work. weight: the footer shows lower ones first; 0 keeps it out of the footer (it is in help and palette).
    first: the keys work before the widget that has the focus sees them.
    """

    id: str
    keys: str
    do: str
    label: str
    help: str
    where: str
    weight: int = 50
    shown_key: str = ""
    first: bool = False


VIEWS = (
    ("morning", "Morning", "What must happen next?"),
    ("path", "Path", "When do we open, and what drives it?"),
    ("cost", "Cost", "What does it cost per square foot?"),
    ("rezoning", "Rezoning", "May we use it this way?"),
    ("permits", "Permits", "What must be inspected, and what did the inspector say?"),
    ("trades", "Trades", "Who does what, for how much, and can I trust their papers?"),
    ("changes", "Changes", "What changed, who agreed, what does it do to money and time?"),
    ("draws", "Draws", "Whom may I pay, and will the lender fund it?"),
    ("slip", "Slip", "Why are we late, through whom, at what cost?"),
)
"""The nine views in the order of their keys: code, name, and the question that each answers."""

PLACES = {
    "everywhere": "Everywhere",
    "view": "In a view",
    "list": "In a list of rows",
    "form": "In a form",
    "verify": "While verifying an application",
    "entry": "In an entry that moves the plan",
    "once": "In a short entry",
    "tables": "In the tables behind a view",
    "history": "In the history",
    "cost": "In Cost",
    "rezoning": "In Rezoning",
    "study": "In the code study",
    "permits": "In Permits",
    "trades": "In Trades",
    "changes": "In Changes",
    "draws": "In Draws",
    "slip": "In Slip",
    "path": "In Path",
    "risk": "In Risk",
    "morning": "In Morning",
    "site": "In the site log",
}
"""Where keys work, in the order of the help."""

ACTS: tuple[Act, ...] = (
    Act(
        "help",
        "question_mark,f1",
        "app.open_help",
        "help",
        "What every key does here, and what the marks mean",
        "everywhere",
        90,
        "?",
    ),
    Act(
        "palette",
        "ctrl+p",
        "app.command_palette",
        "find an action",
        "Find any action by typing a part of its name",
        "everywhere",
        95,
    ),
    Act("quit", "ctrl+q", "app.leave", "quit", "Leave the program; what was kept stays kept", "everywhere", 96),
    Act("quit_short", "q", "app.leave", "quit", "Leave the program", "view", 0),
    *(
        Act(f"view_{code}", str(place), f"screen.open_view('{code}')", name, f"{name}: {question}", "view", 0)
        for place, (code, name, question) in enumerate(VIEWS, 1)
    ),
    Act("tables", "t", "screen.tables", "tables", "The tables behind this view: list, add, change, remove rows", "view", 60),
    Act(
        "print", "P", "screen.print", "print", "Print what belongs to this view: PDF, spreadsheet, CSV, calendar", "view", 65, "P"
    ),
    Act("undo", "u", "screen.undo", "undo", "Take the last change back; again for the one before", "view", 70),
    Act("redo", "U", "screen.redo", "redo", "Make the change again that was taken back last", "view", 71, "U"),
    Act("history", "h", "screen.history", "history", "Every change: what, when, before and after, why", "view", 72),
    Act("reload", "f5", "screen.reload", "read again", "Read the project again and show it anew", "view", 0),
    Act("stop", "escape", "screen.back", "back", "Go back; stop what is still being worked out", "view", 0),
    Act("open", "enter", "open", "open", "Open the row under the cursor", "list", 10),
    Act("add", "a,insert", "add", "add", "Make a new row", "list", 11),
    Act("remove", "d,delete", "remove", "remove", "Remove the row under the cursor, after a question", "list", 12),
    Act("find", "slash", "find", "find", "Show only rows that hold what you type", "list", 13, "/"),
    Act("other_pane", "tab", "app.focus_next", "other pane", "Go to the next part of the screen", "list", 30),
    Act("what_if", "w", "what_if", "what if", "Try another duration, date, calendar or link and see the opening move", "path", 2),
    Act("keep_what_if", "ctrl+s", "keep", "keep what-if", "Keep the changes of the what-if, as one step", "path", 1),
    Act("drop_what_if", "escape", "drop", "back", "Drop the what-if; without one, show all activities again", "path", 3),
    Act("what_if_longer", "right_square_bracket", "longer(1)", "day more", "What if it took a day longer", "path", 4),
    Act("what_if_shorter", "left_square_bracket", "longer(-1)", "day less", "What if it took a day less", "path", 4),
    Act(
        "begun",
        "r",
        "progress(False)",
        "begun",
        "Mark the work as begun, or say what remains; the new opening is shown",
        "path",
        5,
    ),
    Act("done", "x", "progress(True)", "done", "Mark the work as done; the new opening is shown before it is kept", "path", 5),
    Act("what_if_back", "backspace", "one_back", "one back", "Take the last change of the what-if back", "path", 5),
    Act("only_driving", "l", "only_driving", "only what drives", "Show only what drives the opening, or all again", "path", 6),
    Act("remarks", "m", "remarks", "remarks", "What the plan remarks, crews on two activities at once, and cautions", "path", 6),
    Act("risk", "c", "risk", "how sure", "How sure is the opening: chances, hearings, what drives it, buying days", "path", 6),
    Act("only_trade", "f", "only_trade", "a trade", "Show only one trade, or all again", "path", 14),
    Act("order", "o", "order", "order", "In row order, or by early start", "path", 15),
    Act("zoom_in", "plus,equals_sign", "zoom(-1)", "finer", "Less time in a cell of the axis: month, week, day", "path", 8),
    Act("zoom_out", "minus", "zoom(1)", "coarser", "More time in a cell of the axis: day, week, month", "path", 8),
    Act("to_bar", "g", "to_bar", "its bar", "Bring the bar of this activity into sight", "path", 9),
    Act("to_status", "s", "to_status", "status date", "Bring the status date into sight", "path", 16),
    Act("wide_bars", "b", "wide_bars", "wide bars", "More room for bars, or for columns", "path", 17),
    Act("about_it", "i", "about_it", "more", "Everything about this activity, or less again", "path", 7),
    Act("save", "ctrl+s", "screen.save", "keep", "Keep what is in the form", "form", 1),
    Act("pick", "f2", "screen.pick", "choose", "Choose the code from the rows that are there", "form", 2),
    Act("next_field", "tab", "screen.next_field", "next field", "Go to the next field", "form", 3, first=True),
    Act("form_before", "shift+tab", "screen.field_before", "back a field", "Go back a field", "form", 0, first=True),
    Act(
        "form_entered",
        "enter",
        "screen.entered",
        "go on",
        "Go on to the next field or line",
        "form",
        0,
        first=True,
    ),
    Act("form_remove", "ctrl+d", "screen.remove", "remove row", "Remove this row, after a question", "form", 5),
    Act("form_back", "escape", "screen.back", "back", "Go back; asks first if something typed would be lost", "form", 4),
    Act(
        "entry_save", "ctrl+s", "screen.save", "go on", "Tell what it would do to plan and money; then it can be kept", "entry", 1
    ),
    Act("once_save", "ctrl+s", "screen.save", "keep", "Keep what was entered", "once", 1),
    Act("once_pick", "f2", "screen.pick", "choose", "Choose the code from the rows that are there", "once", 2),
    Act("once_next", "tab", "screen.next_field", "next field", "Go to the next field", "once", 3, first=True),
    Act("once_before", "shift+tab", "screen.field_before", "back a field", "Go back a field", "once", 0, first=True),
    Act(
        "once_entered",
        "enter",
        "screen.entered",
        "go on",
        "Go on to the next field or line",
        "once",
        0,
        first=True,
    ),
    Act("once_back", "escape", "screen.back", "back", "Go back; asks first if something typed would be lost", "once", 4),
    Act("entry_pick", "f2", "screen.pick", "choose", "Choose the code from the rows that are there", "entry", 2),
    Act("entry_next", "tab", "screen.next_field", "next field", "Go to the next field", "entry", 3, first=True),
    Act("entry_before", "shift+tab", "screen.field_before", "back a field", "Go back a field", "entry", 0, first=True),
    Act(
        "entry_entered",
        "enter",
        "screen.entered",
        "go on",
        "Go on to the next field or line",
        "entry",
        0,
        first=True,
    ),
    Act("entry_back", "escape", "screen.back", "back", "Go back; asks first if something typed would be lost", "entry", 4),
    Act("cost_move", "m", "move_budget", "move budget", "Move budget from one cost line to another, with the reason", "cost", 14),
    Act("as_claimed", "f3", "as_claimed", "seen as claimed", "Take the claim of this line as seen in place", "verify", 2),
    Act("all_as_claimed", "f4", "all_as_claimed", "all as claimed", "Take every claim as seen in place", "verify", 2),
    Act("verify", "v", "verify", "verify", "Enter what was seen in place of an application, line by line", "draws", 7),
    Act("pay", "p", "pay", "pay", "Pay what the row is about; what stops it is set aside only with a reason", "draws", 8),
    Act("waiver", "w", "waiver", "waiver came", "Put a lien waiver on record that came in", "draws", 9),
    Act("claim", "c", "claim", "next claim", "Make the next application of this contract; then v enters its lines", "draws", 12),
    Act("set_aside", "o", "set_aside", "set aside", "Set a closed gate to payment aside, with its reason", "draws", 13),
    Act("prepare_draw", "n", "prepare", "prepare draw", "Prepare the next draw, or the draft anew", "draws", 14),
    Act("interest", "i", "interest", "interest", "Enter the interest of a month as a bill on the reserve line", "draws", 8),
    Act("mark_paper", "m", "mark_paper", "mark paper", "Mark a paper of the package: present, missing, waived", "draws", 6),
    Act("send_draw", "s", "send", "send", "Mark the draw as sent, after what a lender looks for", "draws", 7),
    Act("fund_draw", "f", "fund", "funded", "Enter what came of a draw, line by line, with what was cut", "draws", 7),
    Act("return_draw", "r", "came_back", "came back", "The lender sent the draw back", "draws", 8),
    Act("bid_came", "b", "bid_came", "enter bid", "Enter a bid of the package, with its answer to each scope item", "trades", 6),
    Act("award", "w", "award", "award", "Award the package: contract and schedule of values in one step", "trades", 7),
    Act("sign", "s", "sign", "signed", "The contract was signed: it counts from that day on", "trades", 7),
    Act("release", "l", "release", "release", "Release retainage of the contract, with the reason", "trades", 8),
    Act("deposit", "p", "deposit", "pay deposit", "Pay a deposit on the contract; it stands as paid ahead", "trades", 9),
    Act("price_change", "p", "price", "price", "Enter the price of a change and the days that it takes", "changes", 7),
    Act("approve_change", "y", "approve", "approve", "Approve a priced change: price and days in one step", "changes", 8),
    Act("refuse_change", "n", "refuse", "refuse", "Refuse a change, with the reason", "changes", 9),
    Act("item_state", "s", "item_state", "state", "Change the state of the item: proven asks for its evidence", "rezoning", 9),
    Act(
        "code_study",
        "c",
        "code_study",
        "code study",
        "What the building code asks: a first look, and what to ask",
        "rezoning",
        10,
    ),
    Act("state_law", "l", "state_law", "state's law", "Bring what is on record of a state's law, with its day", "rezoning", 15),
    Act("outcome", "o", "outcome", "outcome", "Enter what came of a hearing; told first, with what it costs", "rezoning", 8),
    Act("evidence", "e", "evidence", "open evidence", "Open the file that is attached to the row", "rezoning", 12),
    Act("attach", "f", "attach", "attach file", "Attach a file to the row: its path and fingerprint are kept", "rezoning", 13),
    Act("permits_evidence", "e", "evidence", "open evidence", "Open the file that is attached to the row", "permits", 13),
    Act("permits_attach", "f", "attach", "attach file", "Attach a file to the row: path and fingerprint are kept", "permits", 14),
    Act("asked_inspection", "r", "asked_for", "asked for", "Mark the inspection as asked for today, with its day", "permits", 8),
    Act(
        "inspector_came", "v", "came", "inspector came", "Enter what the inspector said: passed, partly, or failed", "permits", 9
    ),
    Act("close_item", "c", "close_item", "close item", "Close a correction that the inspector asked for", "permits", 9),
    Act(
        "override_cover",
        "o",
        "override",
        "override",
        "Cover up before the inspection, for a reason that stays on record",
        "permits",
        14,
    ),
    Act("close_date", "c", "close_date", "close date", "Close a status date: the plan as it stands is kept for good", "slip", 7),
    Act("baseline", "b", "baseline", "baseline", "Mark the snapshot as the baseline, or take the mark away", "slip", 9),
    Act("enter_event", "e", "enter_event", "enter event", "Enter a delay event for these days, as it is suggested", "slip", 8),
    Act("word_given", "w", "word_given", "word given", "Enter the word that a contractor gives for the work", "morning", 8),
    Act("asked_for", "r", "asked_for", "asked for", "Mark the inspection as asked for today, with its day", "morning", 8),
    Act("came", "c", "came", "came", "Enter the day on which they came", "morning", 9),
    Act(
        "inspected", "v", "inspected", "inspector came", "Enter what the inspector said: passed, partly, or failed", "morning", 8
    ),
    Act(
        "morning_outcome", "o", "outcome", "outcome", "Enter what came of a hearing; told first, with what it costs", "morning", 8
    ),
    Act("next_block", "n", "next_block", "next block", "Go to the next line that blocks something now", "morning", 13),
    Act("site_log", "l", "site_log", "site log", "Write today's line of the site log", "morning", 14),
    Act("site_days", "L", "site_days", "site days", "The site log by day, with delay events and who came", "morning", 15, "L"),
    Act("site_log_today", "l", "screen.site_log", "today", "Write today's line of the site log", "site", 12),
    Act("site_delay", "d", "screen.delay", "delay", "Enter a delay event: what cost time, why, through whom", "site", 13),
    Act("site_undo", "u", "screen.undo", "undo", "Take the last change back", "site", 70),
    Act("site_back", "escape", "screen.back", "back", "Go back to Morning", "site", 20),
    Act("delay", "d", "delay", "delay", "Enter a delay event: what cost time, why, through whom", "morning", 14),
    Act("project", "p", "project", "project", "The project itself: promised opening, status date, cost of a day", "morning", 15),
    Act("study_undo", "u", "screen.undo", "undo", "Take the last change back", "study", 70),
    Act("study_redo", "U", "screen.redo", "redo", "Make the change again that was taken back last", "study", 71, "U"),
    Act("study_history", "h", "screen.history", "history", "Every change: what, when, before and after, why", "study", 72),
    Act("study_back", "escape", "screen.back", "back", "Go back to Rezoning", "study", 20),
    Act("tables_undo", "u", "screen.undo", "undo", "Take the last change back", "tables", 70),
    Act("tables_redo", "U", "screen.redo", "redo", "Make the change again that was taken back last", "tables", 71, "U"),
    Act("tables_history", "h", "screen.history", "history", "Every change: what, when, before and after, why", "tables", 72),
    Act("tables_back", "escape", "screen.back", "back", "Go back to the view", "tables", 20),
    Act("risk_back", "escape", "screen.back", "back", "Stop the trials; when they are done, go back to Path", "risk", 3),
    Act("risk_tables", "t", "screen.tables", "tables", "Risks, buying days, and the other tables behind the trials", "risk", 1),
    Act("risk_again", "f5", "screen.again", "run again", "Run the trials again with the project as it is now", "risk", 2),
    Act("risk_pane", "tab", "app.focus_next", "other pane", "Go to the other part of the screen", "risk", 4),
    Act("help_back", "escape", "screen.back", "back", "Go back", "help", 20),
    Act("history_undo", "u", "screen.undo", "undo", "Take the last change back", "history", 10),
    Act("history_redo", "U", "screen.redo", "redo", "Make the change again that was taken back last", "history", 11, "U"),
    Act("history_back", "escape", "screen.back", "back", "Go back to the view", "history", 20),
)
"""Every action, once."""

BY_ID = {act.id: act for act in ACTS}


def bindings(where: str) -> list[BindingType]:
    """The keys of a place, for a BINDINGS of a screen or widget."""
    return [
        Binding(
            act.keys,
            act.do,
            act.label,
            show=act.weight > 0,
            key_display=act.shown_key or None,
            tooltip=act.help,
            id=act.id,
            priority=act.first,
        )
        for act in ACTS
        if act.where == where
    ]


KEY_NAMES = {
    "question_mark": "?",
    "slash": "/",
    "escape": "Esc",
    "enter": "Enter",
    "insert": "Ins",
    "delete": "Del",
    "tab": "Tab",
    "shift+tab": "Shift Tab",
    "f1": "F1",
    "right_square_bracket": "]",
    "left_square_bracket": "[",
    "plus": "+",
    "equals_sign": "=",
    "minus": "-",
    "backspace": "Backspace",
    "f2": "F2",
    "f3": "F3",
    "f4": "F4",
    "f5": "F5",
}
"""Keys that people read under another name."""


def key_words(act: Act) -> str:
    """The keys of an action as people read them."""
    return ", ".join(KEY_NAMES.get(key) or key.replace("ctrl+", "Ctrl ") for key in act.keys.split(","))


def help_of(where: str) -> list[Act]:
    """The actions of a place, in their order."""
    return [act for act in ACTS if act.where == where]
