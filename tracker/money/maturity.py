"""Extension fees: a lump sum that falls due when the opening passes a loan's maturity."""

from __future__ import annotations

import datetime as dt

from tracker.values.records import Rows


def maturity_steps(rows: Rows) -> list[tuple[str, dt.date, int, str]]:
    """Source, day, cents and reason of each extension fee: a sum that falls due when the opening
    passes a loan's maturity.
    """
    return [
        (s.code, s.matures, s.extension_fee, f"extension of {s.name or s.code} past its maturity")
        for s in rows.get("sources", ())
        if s.matures is not None and s.extension_fee
    ]
