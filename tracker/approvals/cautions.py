"""Cautions: short reminders where work can hurt someone or lose a right.

They can be read past, never switched off.

A caution that protects life always stands in its views and prints: the words in an activity's name
only place it beside that activity, since nobody can foresee what people call their work.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution. shown_in: views and prints that carry it; SITE for the prints that trades and
    officials get. works: beginnings of words (as patterns) in an activity's name or trade that call
    it up.

    source: the rule behind it, or "common practice". life: what it protects life from, in a word or
    two; blank for the others.
    """

    id: str
    text: str
    shown_in: tuple[str, ...]
    works: tuple[str, ...] = ()
    source: str = "common practice"
    life: str = ""


ALWAYS = "Licensed trades and local code govern."
"""The line that stays at the foot of every view and print."""

SITE = "site"
"""Prints that go to the site, to trades and officials: nothing in them about the owner's own
position.
"""

ON_SITE = ("path", "permits", "trades", SITE)
"""Where a caution that protects life stands."""

TAKEN_OUT = (
    r"demo(?!n)",
    "gut",
    "tear",
    "torn",
    r"rip(s|ped|ping)?\b",
    "knock",
    "wreck",
    "dismantl",
    r"(tak(e|es|en|ing)|took|pull\w*|strip\w*|cut\w*|break\w*|broke)\b(?!.*permit).*\b(out|down|up)\b",
    "remov",
    "raze",
)
"""Words of work that takes something out of a building, as people say it."""

OPENINGS = (
    r"cut\w*\b.*\b(opening|door|window|wall|slab|floor|roof|hole)",
    r"(new|enlarge\w*|widen\w*|make|making|saw\w*|brick up|block up|fill)\b.*\bopening",
    "opening in",
    r"break(s|ing)? (up|out|through)",
)
"""Words of work that opens a wall, floor or roof."""

DIGGING = (
    "excavat",
    "trench",
    "footing",
    "foundation",
    "sewer",
    "utility",
    "storm",
    r"dig(s|ging)?\b",
    "dug",
    "underground",
    "underpin",
    "auger",
    r"pil(e|es|ing|ings)\b",
    "pier",
    "caisson",
    "septic",
    r"(fuel|oil|gas|storage|buried) tank",
    "retaining wall",
    "grease (trap|interceptor)",
    "elevator pit",
    "break(s|ing)? ground",
    r"blast(s|ed|ing)?\b.*\b(rock|ledge)",
)
"""Words of work below the ground."""

MASONRY = (
    "tuckpoint",
    "repoint",
    r"pointing\b",
    "brick",
    "masonry",
    "chimney",
    "parapet",
    "facade",
    "façade",
    "stone",
)
"""Words of work on walls of brick and stone."""

CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "trials",
        "Trials rest on the durations, risks and links that were entered. They are an aid to"
        " planning and promise nothing; lender, attorney and officials decide.",
        ("risk",),
    ),
    Caution(
        "advice",
        "Reminders and sums only, no legal, engineering or code advice: the local official's"
        " written answer governs.",
        ("rezoning", "permits", "study"),
    ),
    Caution(
        "owner_contractor",
        "An owner's exemption rarely covers a commercial building that is let. "
        "Ask the licensing board, the lender and an attorney first.",
        ("rezoning", "trades"),
        source="e.g. Fla. Stat. 489.103(7); N.C. G.S. 87-1(b)(2)",
    ),
    Caution(
        "hearing",
        "A change of zoning is a vote. Nothing makes it certain: "
        "keep a way out of the purchase until the time for appeal has run.",
        ("rezoning", "path"),
    ),
    Caution(
        "hearing_orders",
        "Do not close, demolish or order long-lead goods on a hearing date, a recommendation or a"
        " first reading.",
        ("rezoning", "path"),
    ),
    Caution(
        "notice",
        "A notice that is late, too early or never mailed can void the hearing. "
        "Count by your state's rule and leave days to spare.",
        ("rezoning",),
    ),
    Caution(
        "filing",
        "Filing in time does not promise a place on the agenda; an incomplete file waits for a"
        " later meeting.",
        ("rezoning", "path", SITE),
    ),
    Caution(
        "structure",
        "Cut, load or remove nothing that bears weight without a licensed engineer's drawing and a"
        " permit.",
        (*ON_SITE, "study"),
        (
            *TAKEN_OUT,
            *OPENINGS,
            "structur",
            "framing",
            "beam",
            "column",
            "joist",
            "rafter",
            "truss",
            "lintel",
            "header",
            "mezzanine",
            "steel",
            "roof",
            "bearing",
            "partition",
            "stair",
            "chimney",
            "parapet",
            "underpin",
            r"shor(e|es|ed|ing)\b",
            r"jack(s|ed|ing)?\b",
            "footing",
            "foundation",
            "elevator",
            "hoist",
            "crane",
            "solar",
        ),
        life="structure",
    ),
    Caution(
        "falls",
        "At 6 ft or more above a lower level everyone needs guardrails, a net or a harness that is"
        " tied off.",
        ON_SITE,
        (
            *MASONRY,
            "roof",
            "scaffold",
            "ladder",
            "steel",
            "skylight",
            "mezzanine",
            "framing",
            "siding",
            r"lift\b",
            r"windows?\b",
            "gutter",
            "fascia",
            "soffit",
            "truss",
            "rafter",
            "stair",
            "elevator",
            "shaft",
            "balcon",
            "canop",
            "awning",
            "crane",
            "solar",
            "floor opening",
            r"(pole|wall|pylon) sign",
        ),
        "29 CFR 1926.501(b)(1)",
        life="falls",
    ),
    Caution(
        "excavation",
        "From 5 ft depth, and shallower where the ground may give, "
        "an excavation needs sloping, shoring or a box, and a competent person each day.",
        ON_SITE,
        DIGGING,
        "29 CFR 1926.652(a)(1)",
        life="excavation",
    ),
    Caution(
        "dig",
        "Before any digging call 811, wait until the lines are marked, and dig by hand beside the"
        " marks.",
        ON_SITE,
        (
            *DIGGING,
            "fence",
            "bollard",
            "parking",
            r"post ?holes?\b",
            r"(set|sets|setting|drive|drives|driving)\b.*\b(posts?|poles?|stakes?)\b",
            r"(monument|pole|pylon) sign",
            "landscap",
            r"trees?\b",
            r"grad(e|ing)\b",
            r"pav(e|ing|ement)\b",
            "asphalt",
            "curb",
            "sidewalk",
            "ground rod",
            r"bor(e|es|ing|ings)\b",
        ),
        "state one-call laws",
        life="call 811",
    ),
    Caution(
        "asbestos_lead",
        "Before demolition or renovation an accredited inspector surveys for asbestos, whatever the"
        " building's age, and the notice period is waited out. Treat old paint as lead until a test"
        " says otherwise.",
        (*ON_SITE, "rezoning"),
        (
            *TAKEN_OUT,
            *OPENINGS,
            "abat",
            "asbestos",
            r"lead\b",
            "delead",
            "flooring",
            r"floor tile",
            "ceiling",
            r"strip(?!ing\b|e|s\b)",
            "renovat",
            "refinish",
            "refurbish",
            "restor",
            "replac",
            "scrap(e|es|ed|ing)",
            r"sand(s|ed|ing)?\b",
            "sandblast",
            "blast",
            r"windows?\b",
            "boiler",
            "pipe insulation",
            "old insulation",
            "roofing",
            "siding",
            "plaster",
            "popcorn",
            "caulk",
            "glaz",
            "mastic",
            "linoleum",
            "vinyl",
            "carpet",
            r"(duct|chimney|flue)\b",
        ),
        "40 CFR 61.145(a) and (b); 29 CFR 1926.62",
        life="asbestos and lead",
    ),
    Caution(
        "licensed_trades",
        "Electrical, gas, plumbing, mechanical, sprinkler and alarm work is for licensed trades"
        " under their own permits.",
        ON_SITE,
        (
            "electric",
            r"gas\b",
            "plumb",
            "mechanic",
            "hvac",
            "heat",
            "furnace",
            "cooling",
            "air condition",
            "chiller",
            "sprinkler",
            "standpipe",
            "alarm",
            "boiler",
            r"wir(e|es|ing)\b",
            "rewir",
            "panel",
            "switchgear",
            "transformer",
            "generator",
            "circuit",
            "conduit",
            "outlet",
            "receptacle",
            r"light(s|ing)?\b",
            "charger",
            "solar",
            "elevator",
            r"(power|service entrance|meter)\b",
            r"pip(e|es|ing)\b",
            "water line",
            "water main",
            "drain",
            "toilet",
            "sink",
            "restroom",
            "duct",
            r"(exhaust|range|kitchen|commercial) (fan|hood)",
        ),
        life="electrical and gas",
    ),
    Caution(
        "hot_work",
        "Hot work needs cleared or covered surroundings, an extinguisher at hand and a fire watch"
        " during and after it.",
        ON_SITE,
        (
            "weld",
            "torch",
            "cutting",
            "grind",
            "solder",
            "sweat",
            "braz",
            "hot work",
            "steel",
            "roof",
            "burn",
            r"cut\w*\b.*\b(pipe|steel|metal|rebar|tank)",
            r"thaw",
        ),
        "29 CFR 1926.352",
        life="hot work",
    ),
    Caution(
        "dust",
        "Cutting, grinding or breaking concrete, block or mortar frees silica: "
        "wet it or extract it, and wear what the rule's table asks for.",
        ON_SITE,
        (
            *TAKEN_OUT,
            *OPENINGS,
            *MASONRY,
            "concrete",
            "slab",
            "saw",
            "drill",
            "anchor",
            "core",
            "grind",
            r"blocks?\b",
            "mortar",
            "tile",
            "polish",
            "blast",
            "sandblast",
            "chip",
            "jackhammer",
            r"chas(e|es|ing)\b",
            "terrazzo",
            "underpin",
        ),
        "29 CFR 1926.1153",
        life="silica dust",
    ),
    Caution(
        "confined_space",
        "Tank, pit, manhole, crawl space: nobody enters before the air is tested and someone stands"
        " by outside.",
        ON_SITE,
        (
            "tank",
            r"pits?\b",
            "manhole",
            "vault",
            "crawl",
            r"ducts?\b",
            "sewer",
            "septic",
            "elevator",
            "cistern",
            "silo",
        ),
        "29 CFR 1926 subpart AA",
        life="tanks and pits",
    ),
    Caution(
        "exits_kept",
        "Where anyone still uses the building, its exits, alarms and sprinklers stay open and"
        " working; before one is shut off or blocked, ask the fire marshal and the code official.",
        (*ON_SITE, "morning"),
        (
            "occupied",
            "tenant",
            "neighbo",
            "sprinkler",
            "standpipe",
            "alarm",
            r"exits?\b",
            "egress",
            "corridor",
            "stair",
            "shut ?(off|down)",
        ),
        "International Fire Code, chapter 33; systems out of service, section 901.7 (from memory),"
        " before local amendments",
        life="exits kept open",
    ),
    Caution(
        "covering",
        "Cover nothing before its inspection has passed: uncovering is at the owner's cost.",
        ("permits", "path", SITE),
        (
            "insulat",
            "wallboard",
            "drywall",
            "sheetrock",
            "gypsum",
            "plaster",
            "ceiling",
            "concrete",
            r"pour(s|ed|ing)?\b",
            "backfill",
            "slab",
            r"(close|closing|cover|covering) (up|in|the walls|walls)",
        ),
        "International Building Code, section 110.1, before local amendments",
    ),
    Caution(
        "stale_permit",
        "Permits and applications lapse, commonly after 180 days without progress. Count from the"
        " last inspection that passed.",
        ("permits",),
        source="International Building Code, section 105, before local amendments",
    ),
    Caution(
        "occupancy",
        "No moving in, storing or opening, not even in part, "
        "before the certificate of occupancy or a written temporary one; tell the insurer first.",
        ("permits", "morning", "rezoning"),
        (
            r"mov(e|es|ed|ing) in\b",
            r"(grand|soft) opening",
            r"opening (day|to the public)",
            r"^opening\s*$",
            r"opens?\s*$",
            r"(store|shop|trade|display) fixture",
            "stock",
            "furni",
            "tenant",
        ),
        "International Building Code, section 111.1, before local amendments",
    ),
    Caution(
        "no_permit",
        "Work without its permit, or by someone without valid insurance, can be stopped, taken out"
        " again and left uninsured.",
        ("permits", "trades", "morning"),
    ),
    Caution(
        "model_code",
        "Thresholds come from the model code of the edition named. "
        "The edition that your city adopted, with its amendments, replaces them.",
        ("study",),
    ),
    Caution(
        "accessibility",
        "Duties under federal accessibility law do not depend on what the building inspector asks"
        " for.",
        ("study", "permits"),
    ),
    Caution(
        "waiver",
        "Pay nothing without the waiver that belongs to it; an unconditional one only against money"
        " that has cleared.",
        ("draws", "trades"),
    ),
    Caution(
        "lien",
        "Lien and notice deadlines run by state law and are short: ask an attorney which ones bind"
        " you, and from when.",
        ("draws", "trades"),
    ),
    Caution(
        "verbal_change",
        "A change agreed by word of mouth is a dispute later: write it, price it and sign it before"
        " the work.",
        ("changes",),
    ),
    Caution(
        "dispute",
        "Where money or blame is in dispute, speak to an attorney before you write, withhold or end"
        " a contract.",
        ("draws", "changes", "slip", "trades"),
    ),
    Caution(
        "lead_days",
        "Usual times shown here are guesses until your own offices have answered.",
        ("rezoning",),
    ),
)
"""Every caution, in the order in which they are shown."""


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution as a view or print shows it."""

    id: str
    text: str


BY_ID = {caution.id: caution for caution in CAUTIONS}


def for_view(view: str) -> tuple[Caution, ...]:
    """The cautions of a view or print ("rezoning", "permits", "path" ...)."""
    return tuple(caution for caution in CAUTIONS if view in caution.shown_in)


def for_work(*texts: str) -> tuple[Caution, ...]:
    """The cautions that an activity calls up by its name or trade."""
    said = " ".join(texts).lower()
    return tuple(c for c in CAUTIONS if any(re.search(rf"\b{word}", said) for word in c.works))


def lines(view: str) -> tuple[CautionLine, ...]:
    """The cautions of a view or print, as it shows them."""
    return tuple(CautionLine(c.id, c.text) for c in for_view(view))


MOST_NAMES = 3
"""Activities that a caution names; of more it tells the number."""
LONGEST_NAME = 60


def standing(view: str, works: Iterable[tuple[str, str]]) -> tuple[CautionLine, ...]:
    """The cautions of a view or print of these works, by name and trade, each with the works that
    call it up.

    Those that protect life stand always, those about another kind of work only where such work is
    among these.
    """
    placed = [(name, {one.id for one in for_work(name, trade)}) for name, trade in works]
    found = []
    for caution in for_view(view):
        beside = [name for name, ids in placed if caution.id in ids]
        if caution.life:
            found.append(CautionLine(caution.id, f"{caution.text}{_here(beside)}"))
        elif beside or not caution.works:
            found.append(CautionLine(caution.id, caution.text))
    return tuple(found)


def _here(names: list[str]) -> str:
    """The works that a caution is about, in brackets; blank where no name says so."""
    if not names:
        return ""
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    said = [
        name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…"
        for name in names[:MOST_NAMES]
    ]
    return f" (Here: {'; '.join(said)}{more}.)"
