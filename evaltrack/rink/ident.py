"""Identifiers that sort by time, so that the log of a season stays in the order in which things happened."""

import os
import time
from threading import Lock
from uuid import UUID

_FARTHEST = 1 << 59  # half of what the number holds: the year 6429
_last = 0
_counting = Lock()


def now_ms() -> int:
    """Return the present moment in milliseconds since 1970 in UTC."""
    return time.time_ns() // 1_000_000


def new_id(beside: UUID | None = None) -> UUID:
    """Return a fresh time-ordered identifier (UUID version 7, RFC 9562, section 5.7).

    Two made one after the other in this process always sort in that order, even within one millisecond
    or when the clock is set back: the 12 bits after the time are a counter, and both count on as one
    number (RFC 9562, section 6.2, method 1 with its rollover). One made ``beside`` another sorts as that one
    does among all the others: it stands for the same fact.
    """
    global _last
    if beside is not None:
        return UUID(int=beside.int >> 62 << 62 | _chance(62))
    with _counting:
        _last = ticks = max(now_ms() << 12, _last + 1)
    return _uuid(7, ticks >> 12, ticks & 0xFFF, _chance(62))


def count_on_from(newest: UUID | None) -> None:
    """Let identifiers made from now on sort after this one, which was made before a restart.

    One that is too far ahead to count on from is passed over: no clock makes it.
    """
    global _last
    if newest is None or newest.version != 7:
        return
    ticks = newest.int >> 80 << 12 | newest.int >> 64 & 0xFFF
    with _counting:
        if ticks < _FARTHEST:
            _last = max(_last, ticks)


def id_from(at_ms: int, *parts: object) -> UUID:
    """Return the identifier that belongs to these parts: the same parts always give the same one.

    It is laid out as UUID version 8 (RFC 9562, section 5.8) with the time in front, so it sorts among
    the others. A file loaded twice therefore names the same tallies twice.
    """
    import hashlib  # a first board makes no such identifier, and should not wait for it

    text = "\x1f".join(str(part) for part in parts)
    digest = int.from_bytes(hashlib.sha256(text.encode()).digest()[:10], "big")
    return _uuid(8, at_ms, digest & 0xFFF, (digest >> 12) & ((1 << 62) - 1))


def head_of(ident: UUID) -> int:
    """Return the milliseconds at the head of an identifier, by which it sorts."""
    return ident.int >> 80


def _chance(bits: int) -> int:
    return int.from_bytes(os.urandom(8), "big") >> (64 - bits)


def _uuid(version: int, at_ms: int, high: int, low: int) -> UUID:
    return UUID(int=(at_ms & ((1 << 48) - 1)) << 80 | version << 76 | high << 64 | 0b10 << 62 | low)
