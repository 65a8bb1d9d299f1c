"""A pack as a file: lines of JSON, compressed by gzip. It comes from anywhere, so nothing in it is believed.

The first line is a header, the last one has the number of lines between and the SHA-256 of all bytes before
it; in between each line is a fact, a JSON list that begins with the kind. What is too large, too deep, cut or
changed is refused before anything is taken in.
"""

import gzip
import hashlib
import json
import re
import zlib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NoReturn
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.store.packs.merge_rules import FACTS

FORMAT, MAJOR, MINOR = "evaltrack pack", 1, 0
MOST_PACKED, MOST_BYTES = 32 << 20, 96 << 20  # of the file, and of what is in it
LONGEST_LINE, MOST_LINES = 1 << 20, 300_000  # fifty seasons; all of it is in memory at once
_MOST_VALUES = 100  # of a fact
_EDIT_CLOCK = 3  # where the clock of an edit stands
_CHUNK = 1 << 18
_SEASON_FILE = b"SQLite format 3\x00"
_GZIP = 31  # zlib's word for: with the header and the checksum of gzip
_TOO_MUCH = mark(
    "more than {most} facts are too much for one pack; write one since an earlier pack with --since"
)
_NO_LETTER = re.compile(rb"\\u[dD][89a-fA-F]")  # half of a pair, or both of them
_SHA = re.compile(r"[0-9a-f]{64}")
_TABLET = re.compile(r"[0-9A-Za-z._-]{0,40}")


class PackError(EvaltrackError):
    """A pack that is refused, whole."""


@dataclass(frozen=True, slots=True)
class Header:
    """What a pack says of itself: of which season, by which tablet, when by its clock, since which pack.

    A season is known by its id and by when its file was ``made``: every invented season has the same id.

    ``since`` is the digest of the pack that it goes on from, empty for a pack of all there is.
    """

    season: UUID
    made: int
    tablet: str
    at: int
    since: str = ""
    minor: int = MINOR


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack that was read: facts by kind, each a list of values as they stand in it.

    ``foreign`` are the lines of kinds that only a newer evaltrack knows, ``lines`` the digests of all lines.
    """

    header: Header
    facts: dict[str, list[list]]
    foreign: tuple[str, ...]
    digest: str

    def counts(self) -> dict[str, int]:
        """Return how many facts of each kind it has, of fields only what was ever changed."""
        changed = sum(fact[_EDIT_CLOCK] != 0 for fact in self.facts.get("edit", ()))
        return {kind: len(facts) for kind, facts in self.facts.items()} | {"edit": changed}


def pack_bytes(header: Header, lines: Sequence[str]) -> bytes:
    """Return a pack with these lines.

    Raises
    ------
    PackError : it would be larger than what a pack may be.
    """
    if len(lines) > MOST_LINES or max(map(len, lines), default=0) > LONGEST_LINE // 4:
        raise PackError(tr(_TOO_MUCH, most=MOST_LINES))
    counts = Counter(json.loads(line[: line.index(",")] + "]")[0] for line in lines)
    first = {
        "format": FORMAT, "major": MAJOR, "minor": header.minor, "season": header.season.hex,
        "made": header.made, "tablet": header.tablet, "at": header.at, "since": header.since,
        "counts": counts,
    }  # fmt: skip
    text = "\n".join([json.dumps(first, ensure_ascii=False), *lines, ""]).encode()
    last = {"rows": len(lines), "sha256": hashlib.sha256(text).hexdigest()}
    whole = text + json.dumps(last).encode() + b"\n"
    if len(whole) > MOST_BYTES:
        raise PackError(tr(_TOO_MUCH, most=MOST_LINES))
    return gzip.compress(whole, 6, mtime=0)


def read_pack(name: str, content: bytes) -> Pack:
    """Return what is in a pack; ``name`` is what the sentences call it.

    Raises
    ------
    PackError : it is none, damaged, cut, changed, too large, or of a newer evaltrack.
    """
    try:
        return _read(content)
    except PackError as error:
        raise PackError(tr('"{name}" {error}; nothing was taken in', name=name, error=error)) from None


def _read(content: bytes) -> Pack:
    lines = _lines(content)
    first = next(lines, b"")
    header = _header(first)
    facts: dict[str, list[list]] = defaultdict(list)
    foreign: list[str] = []
    digest, count = hashlib.sha256(first), 0
    line, after = next(lines, b""), next(lines, b"")
    while after:
        digest.update(line)
        count += 1
        fact = _value(line)
        if type(fact) is not list or not 2 <= len(fact) <= _MOST_VALUES or type(fact[0]) is not str:
            _refuse(tr("is damaged: a line is no fact"))
        if fact[0] in FACTS:
            facts[fact[0]].append(fact[1:])
        else:
            foreign.append(line.decode().removesuffix("\n"))
        line, after = after, next(lines, b"")
    _refuse_changed(_value(line), count, digest.hexdigest())
    if foreign and header.minor <= MINOR:
        _refuse(tr("is damaged: it has facts of a kind that this evaltrack should know"))
    return Pack(header, dict(facts), tuple(foreign), digest.hexdigest())


def _lines(content: bytes) -> Iterator[bytes]:
    """Yield the lines, each with its end; no more is unpacked than is asked for."""
    rest, count = b"", 0
    for chunk in _unpacked(content):
        *whole, rest = (rest + chunk).split(b"\n")
        for line in whole:
            count += 1
            if len(line) > LONGEST_LINE or count > MOST_LINES + 2:
                _refuse(tr("is larger than a pack can be"))
            yield line + b"\n"
        if len(rest) > LONGEST_LINE:
            _refuse(tr("is larger than a pack can be"))
    if rest:
        _refuse(tr("is cut short or damaged"))


def _unpacked(content: bytes) -> Iterator[bytes]:
    if len(content) > MOST_PACKED:
        _refuse(tr("is larger than a pack can be"))
    if content.startswith(_SEASON_FILE):
        _refuse(
            tr(
                "is a season file and no pack: open it and write a pack of it, of a loan with Give the "
                "tallies back"
            )
        )
    if content[:2] != b"\x1f\x8b":
        _refuse(tr("is no pack of evaltrack"))
    unpack, size, rest = zlib.decompressobj(_GZIP), 0, content
    while not unpack.eof:
        try:
            chunk = unpack.decompress(rest, _CHUNK)
        except zlib.error:
            _refuse(tr("is damaged"))
        rest, size = unpack.unconsumed_tail, size + len(chunk)
        if size > MOST_BYTES:
            _refuse(tr("is larger than a pack can be"))
        if not chunk and not rest and not unpack.eof:
            _refuse(tr("is cut short"))
        yield chunk
    if unpack.unused_data:
        _refuse(tr("is damaged: something follows its end"))


def _header(line: bytes) -> Header:
    first = _value(line)
    if type(first) is not dict or first.get("format") != FORMAT:
        _refuse(tr("is no pack of evaltrack"))
    major, minor, at, made = (first.get(name) for name in ("major", "minor", "at", "made"))
    if type(major) is int and major > MAJOR:
        _refuse(tr("was written by a newer evaltrack; update evaltrack on this machine"))
    since, tablet, season = (first.get(name) for name in ("since", "tablet", "season"))
    fits = major == MAJOR and type(minor) is int and 0 <= minor < 10_000 and type(at) is type(made) is int
    fits = fits and 0 <= at < 1 << 53 and type(tablet) is str and _TABLET.fullmatch(tablet)
    fits = fits and type(since) is str and (not since or _SHA.fullmatch(since)) and type(season) is str
    if not (fits and re.fullmatch("[0-9a-f]{32}", season)):
        _refuse(tr("is damaged: its first line is not as evaltrack writes it"))
    return Header(UUID(season), made, tablet, at, since, minor)


def _refuse_changed(last: object, count: int, digest: str) -> None:
    if type(last) is not dict or last.keys() != {"rows", "sha256"}:
        _refuse(tr("is cut short or damaged"))
    if (last["rows"], last["sha256"]) != (count, digest):
        _refuse(tr("is damaged or was changed: its content does not go with its last line"))


def _value(line: bytes) -> object:
    try:
        value = json.loads(line, object_pairs_hook=_once, parse_constant=_refuse_constant)
        if _NO_LETTER.search(line):
            json.dumps(value, ensure_ascii=False).encode()
    except (ValueError, RecursionError):
        _refuse(tr("is damaged: a line of it cannot be read"))
    return value


def _once(pairs: Iterable[tuple[str, object]]) -> dict:
    pairs = list(pairs)
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("twice")
    return found


def _refuse_constant(word: str) -> NoReturn:
    raise ValueError(word)


def _refuse(why: str) -> NoReturn:
    raise PackError(why)


def unlike(what: str) -> PackError:
    """Return the refusal of a value that no evaltrack writes."""
    return PackError(tr("{what} is not as evaltrack writes it", what=tr(what)))
