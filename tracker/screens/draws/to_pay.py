"""What is to be paid, as the lists of Draws and Trades tell it to the entry of a payment."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ToPay:
    """What is to be paid. kind: application, release, invoice or deposit; key: its row's; cents:
    asked, None where it is open.

    payee: the exact name for the check. jointly: who else stands on it. in_exchange: the waiver to
    collect.
    """

    kind: str
    key: str
    payee: str
    cents: int | None
    jointly: tuple[str, ...] = ()
    in_exchange: str = ""
