"""An answer as JSON: field names are the keys, dates are ISO, everything else is as it stands.

A field whose name Python reserves ends in an underscore, which the key drops. A field marked with
`for_screen()` is left out: it serves a screen alone.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

ONLY_SCREEN = "only_screen"


def for_screen() -> Any:
    """Declare a field of an answer that JSON leaves out."""
    return dataclasses.field(metadata={ONLY_SCREEN: True})


def as_json(answer: Any) -> Any:
    """The answer as dictionaries, lists, strings, numbers, booleans and None.

    Only a correlation is no whole number.
    """
    if isinstance(answer, (str, int, float, bool)) or answer is None:
        return answer
    if isinstance(answer, dt.date):
        return answer.isoformat()
    if isinstance(answer, dict):
        return {str(key): as_json(value) for key, value in answer.items()}
    if isinstance(answer, (tuple, list, set, frozenset)):
        return [as_json(value) for value in answer]
    return {
        field.name.rstrip("_"): as_json(getattr(answer, field.name))
        for field in dataclasses.fields(answer)
        if ONLY_SCREEN not in field.metadata
    }
