"""One record of a table or an index, as SQLite lays it out, checked to its last byte."""

import struct
from typing import NamedTuple

Value = None | int | float | str | bytes
_INTEGERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}


class Values(NamedTuple):
    """The values of a record, and the number of its row where it has one."""

    values: tuple[Value, ...]
    rowid: int | None


def read_varint(content: bytes, at: int) -> tuple[int, int]:
    """Return a number of one to nine bytes, and where it ends; what lies behind the end is nothing."""
    value = 0
    for nth in range(9):
        byte = content[at + nth] if at + nth < len(content) else 0
        if nth == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + nth + 1
    raise AssertionError  # nine bytes are a whole number


def read_record(payload: bytes) -> tuple[Value, ...] | None:
    """Return the values of a record; None where it is none, or is longer or shorter than it says."""
    head, at = read_varint(payload, 0)
    if not at <= head <= len(payload):
        return None
    kinds = []
    while at < head:
        kind, at = read_varint(payload, at)
        kinds.append(kind)
    if at != head:
        return None
    values = []
    for kind in kinds:
        size = _size(kind)
        if size is None or at + size > len(payload):
            return None
        try:
            values.append(_value(kind, payload[at : at + size]))
        except UnicodeDecodeError:
            return None
        at += size
    return tuple(values) if at == len(payload) else None


def _size(kind: int) -> int | None:
    if kind >= 12:
        return (kind - 12) // 2
    return {0: 0, 7: 8, 8: 0, 9: 0}.get(kind, _INTEGERS.get(kind))


def _value(kind: int, raw: bytes) -> Value:
    if kind >= 12:
        return raw.decode("utf-8") if kind % 2 else raw
    if kind == 7:
        return struct.unpack(">d", raw)[0]
    if kind in (8, 9):
        return kind - 8
    return None if kind == 0 else int.from_bytes(raw, "big", signed=True)
