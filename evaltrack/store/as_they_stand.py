"""The tallies that were put right, for whoever reads them beside all others; nothing where none ever was.

What works them out is loaded only then: a first board does not wait for it.
"""

import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager

from evaltrack.store.connection import one_view


class NonePutRight:
    """No tally was ever put right: all others are all there are. See `PutRight` for what each means."""

    left_out = "TRUE"
    stood = ()

    def tallies(self) -> list:
        """Return none."""
        return []

    counting = tallies

    def counts(self) -> Counter:
        """Return nothing for any practice."""
        return Counter()

    def with_tallies(self, others: list, *_) -> list:
        """Return all others."""
        return others

    with_cells = with_tallies


@contextmanager
def put_right(connection: sqlite3.Connection) -> Iterator:
    """Give the tallies that were put right, of one moment with all that a block reads beside them."""
    if not connection.execute("SELECT EXISTS (SELECT 1 FROM corrected_tally)").fetchone()[0]:
        yield NonePutRight()
        return
    from evaltrack.store.put_right import PutRight

    with one_view(connection):
        yield PutRight(connection)
