"""The pages of a damaged file, read without SQLite, which stops at the first one that is wrong.

Layouts: https://www.sqlite.org/fileformat2.html, sections 1.5 (free pages), 1.6 (b-trees), 2.1 (records). A
page is believed only as far as it agrees with itself: cells that overlap, or lie where the page says that
nothing is, may be what was deleted.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from evaltrack.store.salvage.records import Values, read_record, read_varint

PAGE = 4096  # bytes; a season file has no other pages
_TABLE_INSIDE, _INDEX_INSIDE, _TABLE_LEAF, _INDEX_LEAF = 5, 2, 13, 10
_INSIDE = (_TABLE_INSIDE, _INDEX_INSIDE)
_KINDS = (*_INSIDE, _TABLE_LEAF, _INDEX_LEAF)
_MOST_LOCAL = {_TABLE_LEAF: PAGE - 35}  # bytes of a row that lie in the page itself
_MOST_OF_INDEX = (PAGE - 12) * 64 // 255 - 23
_LEAST = (PAGE - 12) * 32 // 255 - 23
_FOLLOWED = 4  # times the size of the file may be read of pages that hold the rest of long rows
_MOST_FREE = 10_000_000  # pages


@dataclass
class Page:
    """What is to be read of a page: its rows, the pages below it, and how many cells cannot be read."""

    kind: int
    rows: list[Values] = field(default_factory=list)
    below: list[int] = field(default_factory=list)
    lost: int = 0

    @property
    def is_of_index(self) -> bool:
        """Say whether it is of an index, or of a table without row numbers."""
        return self.kind in (_INDEX_INSIDE, _INDEX_LEAF)


class Pages:
    """The pages of a file, numbered from 1."""

    def __init__(self, content: bytes):
        self._content = content
        self.count = len(content) // PAGE
        # a file that was made to take time could let every row lead through all pages
        self._may_follow = _FOLLOWED * len(content)

    def read(self, number: int) -> Page | None:
        """Return what is to be read of a page; None where it is no page with rows."""
        content, start = self._page(number), 100 if number == 1 else 0
        if len(content) < PAGE or content[start] not in _KINDS:
            return None
        page = Page(content[start])
        head = 12 if page.kind in _INSIDE else 8
        count = int.from_bytes(content[start + 3 : start + 5], "big")
        if start + head + 2 * count > PAGE:
            return None
        places = [start + head + 2 * nth for nth in range(count)]
        pointers = [int.from_bytes(content[at : at + 2], "big") for at in places]
        nothing = _nothing_in(content, start, places[-1] + 2 if places else start + head)
        self._read_cells(page, content, pointers, nothing)
        if page.kind in _INSIDE:
            page.below.append(int.from_bytes(content[start + 8 : start + 12], "big"))
        return page

    def free(self) -> tuple[set[int], bool]:
        """Return the pages that are in no use, and whether all of them are known."""
        head = self._content[:100].ljust(100, b"\0")
        trunk, wanted = (int.from_bytes(head[at : at + 4], "big") for at in (32, 36))
        free: set[int] = set()
        while trunk and trunk not in free and 1 <= trunk <= self.count and len(free) < _MOST_FREE:
            content = self._page(trunk)
            leaves = int.from_bytes(content[4:8], "big")
            if leaves > PAGE // 4 - 2:
                break
            free.add(trunk)
            numbers = [int.from_bytes(content[8 + 4 * n : 12 + 4 * n], "big") for n in range(leaves)]
            free.update(number for number in numbers if 1 <= number <= self.count)
            trunk = int.from_bytes(content[:4], "big")
        return free, len(free) == wanted

    def _page(self, number: int) -> bytes:
        return self._content[(number - 1) * PAGE : number * PAGE] if 1 <= number <= self.count else b""

    def _read_cells(self, page: Page, content: bytes, pointers: list[int], nothing: list[range]) -> None:
        found = []
        for at in pointers:
            cell = self._cell(page.kind, content, at)
            if cell is None:
                page.lost += 1
                page.below += [0] if page.kind in _INSIDE else []  # nobody knows what it leads to
            else:
                found.append((at, *cell))
        ends = sorted((at, end) for at, end, _, _ in found)
        clash = {at for (_, end), (at, _) in pairwise(ends) if at < end}
        clash |= {at for (at, end), (other, _) in pairwise(ends) if other < end}
        for at, end, below, values in found:
            if below:
                page.below.append(below)
            if at in clash or any(at < gap.stop and end > gap.start for gap in nothing):
                page.lost += 1
            elif values is not None:
                page.rows.append(values)
            elif page.kind != _TABLE_INSIDE:
                page.lost += 1

    def _cell(self, kind: int, content: bytes, at: int) -> tuple[int, int, Values | None] | None:
        """Return where a cell ends, the page below it or 0, and its values; None where it is no cell."""
        below = 0
        if kind in _INSIDE:
            below, at = int.from_bytes(content[at : at + 4], "big"), at + 4
        if kind == _TABLE_INSIDE:
            _, end = read_varint(content, at)
            return end, below, None
        size, at = read_varint(content, at)
        rowid = None
        if kind == _TABLE_LEAF:
            rowid, at = read_varint(content, at)
        local = _local(kind, size)
        end = at + local + (4 if local < size else 0)
        if not 0 < size <= 1_000_000 or end > PAGE:
            return (end, below, None) if below and end <= PAGE else None
        payload = content[at : at + local]
        if local < size:
            payload += self._more(int.from_bytes(content[end - 4 : end], "big"), size - local)
        values = read_record(payload) if len(payload) == size else None
        return end, below, None if values is None else Values(values, rowid)

    def _more(self, number: int, size: int) -> bytes:
        parts: list[bytes] = []
        seen: set[int] = set()
        self._may_follow -= size
        if self._may_follow < 0:
            return b""
        while size > 0 and number not in seen and (content := self._page(number)):
            seen.add(number)
            parts.append(content[4 : 4 + size])
            size -= len(parts[-1])
            number = int.from_bytes(content[:4], "big")
        return b"".join(parts)

    def walk(self, root: int, free: set[int]) -> Iterator[tuple[int, Page | None]]:
        """Yield each page of a tree with its number; None for one that cannot be read or is in no use."""
        waiting, seen = [root], set()
        while waiting:
            number = waiting.pop()
            if number in seen:
                continue
            seen.add(number)
            page = None if number in free else self.read(number)
            yield number, page
            if page:
                waiting += page.below


def _local(kind: int, size: int) -> int:
    most = _MOST_LOCAL.get(kind, _MOST_OF_INDEX)
    if size <= most:
        return size
    local = _LEAST + (size - _LEAST) % (PAGE - 4)
    return local if local <= most else _LEAST


def _nothing_in(content: bytes, start: int, end: int) -> list[range]:
    """Return where a page says that nothing is: its head, what is between, and blocks that were freed."""
    begin = int.from_bytes(content[start + 5 : start + 7], "big") or 65536
    nothing = [range(max(end, begin if begin <= PAGE else 0))]
    at = int.from_bytes(content[start + 1 : start + 3], "big")
    for _ in range(PAGE // 4):
        if not end <= at <= PAGE - 4:
            break
        size = int.from_bytes(content[at + 2 : at + 4], "big")
        nothing.append(range(at, at + size))
        at = int.from_bytes(content[at : at + 2], "big")
    return nothing
