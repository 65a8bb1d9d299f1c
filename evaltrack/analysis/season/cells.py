"""The season's cells as a frame: tries and dones of a player in a skill at a practice that were made alike.

Alike are the step, the pressure, the observer and the opponent.
"""

from collections.abc import Collection, Iterable
from datetime import date

import numpy as np
import pandas as pd

from evaltrack.store.log import CELL_COLUMNS

COUNTS = ("tries", "done")
OPPONENT = "opponent"


def cells_frame(rows: Iterable[tuple]) -> pd.DataFrame:
    """Return the rows of ``season.log.cells()`` as a frame in the columns ``CELL_COLUMNS``.

    ``held_on`` becomes a day, ``pressure`` 0, 1 or not a number where it was not noted, ``opponent`` empty
    where nobody knows who it was, as in rows that have no such column; the counts are whole numbers. Cells
    without tries are dropped.
    """
    rows = list(rows)
    apart = bool(rows) and len(rows[0]) < len(CELL_COLUMNS)
    columns = [name for name in CELL_COLUMNS if not (apart and name == OPPONENT)]
    frame = pd.DataFrame.from_records(rows, columns=columns)
    known = frame[OPPONENT] if OPPONENT in frame else [None] * len(frame)
    frame[OPPONENT] = [b"" if ident is None else ident for ident in known]
    # tries kept without a name count as those of one player
    frame["player"] = [b"" if ident is None else ident for ident in frame["player"]]
    frame["held_on"] = pd.to_datetime(frame["held_on"]).astype("datetime64[s]")
    frame["pressure"] = pd.to_numeric(frame["pressure"]).astype(float)
    frame[list(COUNTS)] = frame[list(COUNTS)].astype(np.int64)
    return frame.loc[frame["tries"] > 0, list(CELL_COLUMNS)].reset_index(drop=True)


def up_to(cells: pd.DataFrame, as_of: date | None) -> pd.DataFrame:
    """Return the cells of practices on or before a day; all of them without one."""
    return cells if as_of is None else cells[cells["held_on"] <= pd.Timestamp(as_of)]


def of_players(cells: pd.DataFrame, players: Collection[bytes]) -> pd.DataFrame:
    """Return the cells of these players, by their ids."""
    # not by isin, which takes an id that ends with a zero byte for a shorter one and finds it nowhere
    return cells[cells["player"].map(frozenset(players).__contains__).astype(bool)]
