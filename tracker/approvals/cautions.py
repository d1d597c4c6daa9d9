"""Cautions: short reminders where work can hurt someone or lose a right. They can be read past, never switched off."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution. shown_in: views and prints that carry it. works: beginnings of words (as patterns) in an activity's
    name or trade that call it up.

    source: the rule behind it, or "common practice".
    """

    id: str
    text: str
    shown_in: tuple[str, ...]
    works: tuple[str, ...] = ()
    source: str = "common practice"


ALWAYS = "Licensed trades and local code govern."
"""The line that stays at the foot of every view and print."""

CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "trials",
        "Trials rest on the durations, risks and links that were entered. They are an aid to planning and promise nothing; "
        "lender, attorney and officials decide.",
        ("risk",),
    ),
    Caution(
        "advice",
        "Reminders and sums only, no legal, engineering or code advice: the local official's written answer governs.",
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
        "Do not close, demolish or order long-lead goods on a hearing date, a recommendation or a first reading.",
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
        "Filing in time does not promise a place on the agenda; an incomplete file waits for a later meeting.",
        ("rezoning", "path"),
    ),
    Caution(
        "structure",
        "Cut, load or remove nothing that bears weight without a licensed engineer's drawing and a permit.",
        ("path", "permits", "study"),
        ("structur", "framing", "demolition", "beam", "column", "mezzanine", "steel", "roof", "bearing", "opening in wall"),
    ),
    Caution(
        "falls",
        "At 6 ft or more above a lower level everyone needs guardrails, a net or a harness that is tied off.",
        ("path", "trades"),
        ("roof", "scaffold", "ladder", "steel", "skylight", "mezzanine", "framing", "siding", r"lift\b"),
        "29 CFR 1926.501(b)(1)",
    ),
    Caution(
        "excavation",
        "From 5 ft depth, and shallower where the ground may give, "
        "an excavation needs sloping, shoring or a box, and a competent person each day.",
        ("path", "trades"),
        ("excavat", "trench", "footing", "foundation", "sewer", "utility", "storm", r"dig\b", "underground"),
        "29 CFR 1926.652(a)(1)",
    ),
    Caution(
        "dig",
        "Before any digging call 811, wait until the lines are marked, and dig by hand beside the marks.",
        ("path", "trades"),
        (
            "excavat",
            "trench",
            "footing",
            "foundation",
            "sewer",
            "utility",
            "storm",
            r"dig\b",
            "underground",
            "fence",
            "bollard",
            "parking",
        ),
        "state one-call laws",
    ),
    Caution(
        "asbestos_lead",
        "Before demolition or renovation an accredited inspector surveys for asbestos, whatever the building's age, "
        "and the notice period is waited out. Treat old paint as lead until a test says otherwise.",
        ("path", "rezoning", "permits"),
        ("demolition", "remov", "abate", "asbestos", r"lead\b", "flooring", "ceiling", "strip", "renovat"),
        "40 CFR 61.145(a) and (b); 29 CFR 1926.62",
    ),
    Caution(
        "licensed_trades",
        "Electrical, gas, plumbing, mechanical, sprinkler and alarm work is for licensed trades under their own permits.",
        ("path", "permits", "trades"),
        ("electric", "gas", "plumb", "mechanic", "hvac", "heating", "sprinkler", "alarm", "boiler", "wiring", "panel"),
    ),
    Caution(
        "hot_work",
        "Hot work needs cleared or covered surroundings, an extinguisher at hand and a fire watch during and after it.",
        ("path", "trades"),
        ("weld", "torch", "cutting", "grind", "solder", "braz", "hot work", "steel", "roof"),
        "29 CFR 1926.352",
    ),
    Caution(
        "dust",
        "Cutting, grinding or breaking concrete, block or mortar frees silica: "
        "wet it or extract it, and wear what the rule's table asks for.",
        ("path", "trades"),
        ("concrete", "masonry", "slab", r"saw", "core drill", "demolition", "grind", "block", "mortar", "tile", "polish"),
        "29 CFR 1926.1153",
    ),
    Caution(
        "confined_space",
        "Tank, pit, manhole, crawl space: nobody enters before the air is tested and someone stands by outside.",
        ("path", "trades"),
        ("tank", r"pit\b", "manhole", "vault", "crawl", r"duct\b", "sewer", "septic"),
        "29 CFR 1926 subpart AA",
    ),
    Caution(
        "covering",
        "Cover nothing before its inspection has passed: uncovering is at the owner's cost.",
        ("permits", "path"),
        ("insulation", "wallboard", "drywall", "gypsum", "ceiling", "concrete", "backfill", "slab"),
        "International Building Code, section 110.1, before local amendments",
    ),
    Caution(
        "stale_permit",
        "Permits and applications lapse, commonly after 180 days without progress. Count from the last inspection that passed.",
        ("permits",),
        source="International Building Code, section 105, before local amendments",
    ),
    Caution(
        "occupancy",
        "No moving in, storing or opening, not even in part, "
        "before the certificate of occupancy or a written temporary one; tell the insurer first.",
        ("permits", "morning", "rezoning"),
        ("move in", "opening", "fixture", "stock", "furnish", "tenant"),
        "International Building Code, section 111.1, before local amendments",
    ),
    Caution(
        "no_permit",
        "Work without its permit, or by someone without valid insurance, can be stopped, taken out again and left uninsured.",
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
        "Duties under federal accessibility law do not depend on what the building inspector asks for.",
        ("study", "permits"),
    ),
    Caution(
        "waiver",
        "Pay nothing without the waiver that belongs to it; an unconditional one only against money that has cleared.",
        ("draws", "trades"),
    ),
    Caution(
        "lien",
        "Lien and notice deadlines run by state law and are short: ask an attorney which ones bind you, and from when.",
        ("draws", "trades"),
    ),
    Caution(
        "verbal_change",
        "A change agreed by word of mouth is a dispute later: write it, price it and sign it before the work.",
        ("changes",),
    ),
    Caution(
        "dispute",
        "Where money or blame is in dispute, speak to an attorney before you write, withhold or end a contract.",
        ("draws", "changes", "slip", "trades"),
    ),
    Caution("lead_days", "Usual times shown here are guesses until your own offices have answered.", ("rezoning",)),
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
