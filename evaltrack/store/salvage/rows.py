"""The rows of a damaged file, table by table: those that can be believed, and how many are lost."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from evaltrack.store.salvage.pages import Page, Pages
from evaltrack.store.salvage.records import Value
from evaltrack.store.salvage.shapes import Shape
from evaltrack.store.schema import SCHEMA_VERSION

Row = tuple[Value, ...]
_LEDGER = "_sqlite_migrations"
_SCHEMA_SHAPE = 5  # columns of the table of tables: kind, name, table, root page, statement


def roots_in(pages: Pages, free: set[int]) -> dict[str, int]:
    """Return on which page each table and index begins, by name, as far as that can be read."""
    roots = {}
    for _, page in pages.walk(1, free):
        for values, _ in page.rows if page else ():
            if len(values) == _SCHEMA_SHAPE and isinstance(values[1], str) and isinstance(values[3], int):
                roots[values[1]] = values[3]
    return roots


def version_in(content: bytes) -> int:
    """Return the version of a damaged file: as its ledger of migrations says, or else its header."""
    pages = Pages(content)
    ledger = roots_in(pages, set()).get(_LEDGER, 0)
    applied = sum(len(page.rows) for _, page in pages.walk(ledger, set()) if page)
    noted = int.from_bytes(content[60:64].ljust(4, b"\0"), "big")
    known = range(1, SCHEMA_VERSION + 1)
    return next((version for version in (applied, noted) if version in known), SCHEMA_VERSION)


class DamagedRows:
    """Reads what can be read of a damaged file.

    ``lost`` counts the rows of each table that cannot be believed, ``holed`` has the tables of which a whole
    page is missing, so that nobody knows how many rows are. ``unreadable`` counts such pages. ``is_certain``
    says that no row can be missing without a sign of it.
    """

    def __init__(self, content: bytes, tables: dict[str, Shape], indexes: dict[str, Shape]):
        self._pages, self._tables, self._indexes = Pages(content), tables, indexes
        self._free, self._knows_free = self._pages.free()
        self.lost: Counter[str] = Counter()
        self.holed: set[str] = set()
        self.unreadable = 0
        self._seen: set[int] = set()
        roots = roots_in(self._pages, self._free)
        self._in_trees = {name: list(self._tree(name, roots.get(name))) for name in (*tables, *indexes)}
        self._strays = self._find_strays()
        self.is_certain = self._knows_free

    def of(self, name: str) -> list[Row]:
        """Return the rows of a table or an index that can be believed."""
        shape = self.shape(name)
        rows = [
            row for page in (*self._in_trees[name], *self._strays[name]) for row in self._rows(shape, page)
        ]
        if not shape.keys:
            return rows
        by_key: dict[Row, set[Row]] = defaultdict(set)
        for row in rows:
            by_key[row[: shape.keys]].add(row)
        twice = sum(len(same) > 1 for same in by_key.values())
        self.lost[name] += twice  # two rows with one key: nobody knows which is the right one
        return [row for same in by_key.values() if len(same) == 1 for row in same]

    def shape(self, name: str) -> Shape:
        """Return the shape of a table or an index."""
        return self._tables[name] if name in self._tables else self._indexes[name]

    def _tree(self, name: str, root: int | None) -> Iterator[Page]:
        if root is None:
            self.holed.add(name)
            return
        for number, page in self._pages.walk(root, self._free):
            self._seen.add(number)
            if page is None:
                # led to by a tree and free at once: one of both is wrong
                self._knows_free &= number not in self._free
                self._miss(name)
            else:
                yield page

    def _miss(self, name: str) -> None:
        self.holed.add(name)
        self.unreadable += 1

    def _find_strays(self) -> dict[str, list[Page]]:
        """Return pages that no tree leads to any more, by the one table whose rows they can be.

        Of a sound file there are none. Only while it is known which pages are in no use: those may hold what
        was changed or deleted since.
        """
        strays: dict[str, list[Page]] = defaultdict(list)
        if not self._knows_free:
            return strays
        for number in range(2, self._pages.count + 1):
            if number in self._seen or number in self._free:
                continue
            page = self._pages.read(number)
            if page and page.rows and (name := self._only_home(page)):
                strays[name].append(page)
        return strays

    def _only_home(self, page: Page) -> str:
        shapes = (*self._tables.values(), *self._indexes.values())
        fitting = [
            shape.name
            for shape in shapes
            if page.is_of_index == bool(shape.keys) and all(shape.row(values) for values in page.rows)
        ]
        return fitting[0] if len(fitting) == 1 else ""

    def _rows(self, shape: Shape, page: Page) -> list[Row]:
        self.lost[shape.name] += page.lost
        if page.is_of_index != bool(shape.keys):
            self._miss(shape.name)
            return []
        rows = [shape.row(values) for values in page.rows]
        kept = [row for row in rows if row is not None]
        if rows and not kept:  # the page of another table, to which a damaged one leads
            self._miss(shape.name)
            return []
        self.lost[shape.name] += len(rows) - len(kept)
        return self._in_order(shape, kept)

    def _in_order(self, shape: Shape, rows: list[Row]) -> list[Row]:
        """Return the rows of a page that stand in the order of their keys; others have a wrong key."""
        keys = [_as_sorted(row[: shape.keys]) for row in rows]
        wrong: set[int] = set()
        for nth in range(1, len(keys)):
            if shape.keys and keys[nth] <= keys[nth - 1]:
                wrong |= {nth - 1, nth}
        self.lost[shape.name] += len(wrong)
        return [row for nth, row in enumerate(rows) if nth not in wrong]


def _as_sorted(key: Row) -> tuple:
    """Return a key that sorts as SQLite sorts it: nothing, numbers, texts by their bytes, blobs."""
    order = {type(None): 0, int: 1, float: 1, str: 2, bytes: 3}
    return tuple((order[type(v)], v.encode() if type(v) is str else 0 if v is None else v) for v in key)
