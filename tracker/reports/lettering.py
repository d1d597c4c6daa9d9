"""The letters of a print: one free font that comes with its package, and what happens to a letter
that it lacks.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from tracker.values.problems import one_line

PLAIN, BOLD = "Vera", "VeraBd"
"""Bitstream Vera, free to embed (its license comes with reportlab); a print embeds the letters that
it uses.
"""

INSTEAD = "?"
"""Stands for a letter that the font lacks."""


@lru_cache(maxsize=1)
def _letters() -> frozenset[int]:
    """Register the fonts, once; the letters that both have."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    found = []
    for name in (PLAIN, BOLD):
        font: Any = TTFont(name, f"{name}.ttf")
        pdfmetrics.registerFont(font)
        found.append(frozenset(font.face.charToGlyph))
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)
    return found[0] & found[1]


class Lettering:
    """Text made ready for one print. lacking: the letters that were replaced, in the order in which
    they came.
    """

    def __init__(self) -> None:
        self.known = _letters()
        self.lacking: dict[str, None] = {}

    def text(self, words: str) -> str:
        """The words in letters that the font has; each other letter is replaced visibly and
        remembered.
        """
        return "".join(letter if self._has(letter) else INSTEAD for letter in one_line(words))

    def _has(self, letter: str) -> bool:
        if ord(letter) in self.known:
            return True
        self.lacking[letter] = None
        return False

    def markup(self, words: str, bold: bool = False) -> str:
        """The words for a paragraph, in which nothing that people typed acts as markup."""
        plain = self.text(words).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
        return f"<b>{plain}</b>" if bold else plain

    def note(self) -> str:
        """What the reader is told of replaced letters; nothing where there are none."""
        if not self.lacking:
            return ""
        named = ", ".join(f"U+{ord(letter):04X}" for letter in list(self.lacking)[:12])
        more = " and more" if len(self.lacking) > 12 else ""
        return (
            f"Letters that the font of this print lacks stand as {INSTEAD}: {named}{more}. The"
            " project file has them as typed."
        )


def width(words: str, size: float, bold: bool = False) -> float:
    """How wide words are, in points."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(words, BOLD if bold else PLAIN, size))
