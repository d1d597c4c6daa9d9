"""Something to know about the plan that is no fault."""

from __future__ import annotations

from tracker.values.frozen import value


@value
class Remark:
    """A kind in snake_case, the code of the activity that it is about (or ""), and a sentence."""

    kind: str
    code: str
    text: str
