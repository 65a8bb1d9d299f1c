"""Packs as somebody would make them who means harm: changed, with the digest made anew."""

import gzip
import hashlib
import json
import random

_ODD = (
    None, True, -1, 0, 1, 3.5, 2**31, 2**53, -(2**62), 2**63, 10**30, 1e308, "", " ", "x", "x" * 3000,
    "\0", "\n",
    "2025-10-04", "2025-13-99", "ff" * 16, "00" * 16, "zz" * 16, "a b" * 5, [], [1], {}, {"plan_block": []},
    "😀", "\u202e", '["x"]', "[]", "[[", '["2025-10-04"]', "done", "player", "number", "retired", "slots",
    "9999-12-31", "outlet_pass", "tally", "'; DROP TABLE tally; --",
)  # fmt: skip


def lines_of(content: bytes) -> list[bytes]:
    """Return the lines of a pack, header and last line among them."""
    return gzip.decompress(content).splitlines()


def signed(content: bytes, header: dict | None = None, more: list[bytes] = (), lines=None) -> bytes:
    """Return a pack with another header, further lines or others altogether, its digest made anew."""
    first, *rest = lines_of(content)
    rest = rest[:-1] if lines is None else lines
    first = json.dumps(json.loads(first) | (header or {})).encode()
    return sealed([first, *rest, *more])


def sealed(lines: list[bytes]) -> bytes:
    """Return a pack of these lines with a last one that goes with them."""
    text = b"".join(line + b"\n" for line in lines)
    last = {"rows": len(lines) - 1, "sha256": hashlib.sha256(text).hexdigest()}
    return gzip.compress(text + json.dumps(last).encode() + b"\n", 1)


def tampered(content: bytes, chance: random.Random) -> bytes:
    """Return a pack in which some values are others, lines are doubled, exchanged or gone."""
    rest = lines_of(content)[1:-1]
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(rest))
        kind = chance.random()
        if kind < 0.7:
            rest[at] = _changed(rest[at], chance)
        elif kind < 0.8:
            rest.insert(at, rest[chance.randrange(len(rest))])
        elif kind < 0.9 and len(rest) > 2:
            del rest[at]
        else:
            rest[at] = _changed(_changed(rest[at], chance), chance)
    return signed(content, lines=rest)


def _changed(line: bytes, chance: random.Random) -> bytes:
    fact = json.loads(line)
    spot = fact
    while True:
        at = chance.choice(list(spot) if type(spot) is dict else range(len(spot)))
        if type(spot[at]) in (list, dict) and spot[at] and chance.random() < 0.8:
            spot = spot[at]
            continue
        spot[at] = chance.choice(_ODD)
        return json.dumps(fact).encode()


def rows_of(season) -> list[tuple]:
    """Return every row of each table of an open season."""
    connection = season._connection
    names = [name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    return [
        (name, sorted(map(repr, connection.execute(f"SELECT * FROM {name}"))))
        for name in names
        if name not in ("epoch", "sqlite_stat1")
    ]
