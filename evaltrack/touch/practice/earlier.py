"""What the season file knows of the day on which a practice is about to start, and whether it can be that."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple
from uuid import UUID

from evaltrack.language import mark, tr
from evaltrack.rink.days import SEASON_DAYS, in_full, is_next_season, season_span
from evaltrack.rink.practice import Practice, Station, local_day
from evaltrack.touch.desk.desk import Desk

_NEW_SEASON = mark("A new season gets a file of its own: go back, then Seasons, Start our season.")
NOBODY = "Bench"  # who observes when nobody said so


class Earlier(NamedTuple):
    """The practices of a day; of the last one who was here and what was watched, None where it is not known.

    The last one is what a start goes on with, unless a further one is wanted. ``gone`` is who went off the
    ice in it, or in the last practice of the day before: nobody who was hurt is taken for here by itself.
    """

    practices: tuple[Practice, ...] = ()
    here: frozenset[UUID] | None = None
    station: Station | None = None
    gone: frozenset[UUID] = frozenset()


class Doubt(NamedTuple):
    """Why the tablet's date may be wrong, as a question, and the day that it may be instead."""

    question: str
    likely: date
    remark: str = ""


def earlier_on(desk: Desk, on: date) -> Earlier:
    """Return what the season file in hand knows of a day."""
    practices = desk.season.practices
    held = tuple(practices.held_on(on))
    gone = _gone_off(practices, [*practices.held_on(on - timedelta(1))[-1:], *held])
    if not held or held[-1].started_at is None:  # its tallies were loaded, and nobody said who else was there
        return Earlier(held, gone=gone)
    key = held[-1].key
    here = frozenset(a.player for a in practices.attendance(key) if a.here)
    return Earlier(held, here, practices.station(key, desk.tablet.id), gone)


def _gone_off(practices, last: Sequence[Practice]) -> frozenset[UUID]:
    """Return who went off the ice in these practices and was not here again in a later one of them."""
    here = {a.player: a.here for practice in last for a in practices.attendance(practice.key)}
    return frozenset(player for player, is_here in here.items() if not is_here)


def doubt_about(desk: Desk, today: date) -> Doubt | None:
    """Return what to ask before a practice starts on the tablet's date, or None on an ordinary day.

    It is asked about when it lies before the last practice, is more than a season away from the practices
    that lie together, or when ten months have passed; while there is none, when it is more than a year from
    the day on which the season file was made. Likely is the day after the last practice; that day itself
    while it runs still, as where it was begun on the tablet that lent the season.
    """
    practices = desk.season.practices
    span = season_span(practice.held_on for practice in practices.all())
    if span is None:
        return _doubt_without_practice(local_day(desk.season.created_at), today)
    next_season = is_next_season(span.last, today)
    if today >= span.last and span.takes(today) and not next_season:
        return None
    remark = tr(_NEW_SEASON) if next_season else ""
    running = practices.running()
    runs = running is not None and running.held_on == span.last
    return Doubt(
        tr(
            "This tablet says {today}, but the last practice was on {last}. Which day is it?",
            today=in_full(today),
            last=in_full(span.last),
        ),
        span.last if runs else span.last + timedelta(1),
        remark,
    )


def _doubt_without_practice(made: date | None, today: date) -> Doubt | None:
    if made is None or abs((today - made).days) <= SEASON_DAYS:
        return None
    asked = tr(
        "This tablet says {today}, but this season file was made on {made}. Which day is it?",
        today=in_full(today),
        made=in_full(made),
    )
    return Doubt(asked, made)


def named(observer: str) -> str:
    """Return a request for the observer's name while there is none, or nothing."""
    if observer.strip():
        return ""
    return tr(
        "Who observes? Two observers are told apart by name; without one it says {nobody}.", nobody=NOBODY
    )
