"""Whom to watch next: a pure rule over what was watched, without any estimate."""

from collections.abc import Collection, Iterable

from evaltrack.analysis.standings.standing import Coverage


def whom_to_watch(rows: Iterable[Coverage], away: Collection[str] = ()) -> list[Coverage]:
    """Return who has not been watched enough, the one seen least first; equal ones stay in their order.

    Fewest tries come first, of equal ones fewest practices, then who was not seen for longest. Whoever is
    known well enough is left out, and so are skills of which nothing is known: nobody watches them.

    Parameters
    ----------
    rows : what was watched.
    away : the numbers of players who cannot be watched now.
    """
    wanted = [row for row in rows if row.known and row.to_go != 0 and row.player not in away]
    return sorted(wanted, key=lambda row: (row.tries, row.practices, -(row.days_since or 0)))
