"""Whether the pages of a season file go together, before all of it is read.

A pack and a join read every row, which takes longer than a read may that is ended because pages lead to one
another in a circle. So SQLite looks at the pages first.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.store import sound
from evaltrack.store.connection import FAILURES, reason


@contextmanager
def whole_read(connection: sqlite3.Connection) -> Iterator[None]:
    """Run a block that reads all of a file; SeasonFileError when its pages do not go together."""
    try:
        if connection.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise sound.damaged("its parts do not go together")
        yield
    except FAILURES as error:
        raise SeasonFileError(tr("the season file cannot be read: {reason}", reason=reason(error))) from error
