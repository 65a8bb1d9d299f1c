"""A season that is lent to a helper's tablet, as a season file of its own."""

import sqlite3
from datetime import date
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.loan import LentNames, Loan, day_fault
from evaltrack.rink.practice import local_day
from evaltrack.store.connection import reason
from evaltrack.store.copying import put_on_disk
from evaltrack.store.creating import put_in_place, refuse_taken
from evaltrack.store.on_disk.drafts import draft_beside, remove, sweep
from evaltrack.store.opening import refuse_long
from evaltrack.store.season_file import SeasonFile


def lend(season: SeasonFile, target: Path, names: LentNames, last_day: date, at: int | None = None) -> Loan:
    """Write a loan of a season under a new name: there whole, or not at all.

    Parameters
    ----------
    names : how the players are called in it, beside their numbers.
    last_day : the last one on which it takes tallies.
    at : the moment by this tablet's clock.

    Raises
    ------
    EvaltrackError
        The season is itself a loan, the day is none for a loan, something of that name is there already, it
        cannot be written, or a name would be in it all the same.
    """
    now = now_ms() if at is None else at
    season.refuse_loan()
    refuse_long(target)
    refuse_taken(target)
    if fault := day_fault(last_day, local_day(now) or last_day):
        raise SeasonFileError(fault)
    loan = Loan(new_id(), now, last_day, names, now)
    sweep(target)
    draft = draft_beside(target)
    try:
        draft.touch(mode=0o600, exist_ok=False)
        season.write_loan(draft, loan)
        put_on_disk(draft)
        put_in_place(draft, target)
    except (OSError, ValueError, sqlite3.Error) as error:
        why = reason(error) if isinstance(error, sqlite3.Error) else system_reason(error) or error
        raise SeasonFileError(
            tr('the loan "{target}" cannot be made: {why}', target=target, why=why)
        ) from error
    finally:
        remove(draft)
    return loan
