"""The command for the calendar: ice times to come."""

from datetime import date, time
from pathlib import Path

import click

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE, Clock, Day, Words
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened
from evaltrack.language import mark, tr

_EXAMPLE = """\b
Example:  evaltrack calendar lanterns.db --read team.ics --only practice
          evaltrack calendar lanterns.db --add 2026-01-29 --start 18:30 --minutes 60 --place "Kettle Bay"
"""


@command(epilog=_EXAMPLE)
@season_file
@option("--read", "source", type=FILE, metavar="FILE.ics", help="Take in the ice times of a calendar.")
@option("--only", type=Words(mark("the word"), 100), help="Read only events with this word.")
@option("--add", "day", type=Day(), metavar="DATE", help="Add an ice time of this day.")
@option("--start", type=Clock(), metavar="TIME", help="When it starts.")
@option("--minutes", type=click.IntRange(10, 240), default=60, show_default=True)
@option("--place", type=Words(mark("the place"), 100), help="Where it is.")
@option("--surface", type=click.Choice(["full", "half", "cross"]), default="full", show_default=True)
@option("--format", "form", type=click.Choice(["table", "json"]), default="table", show_default=True)
def calendar(
    season_file: Path,
    source: Path | None,
    only: str | None,
    day: date | None,
    start: time | None,
    minutes: int,
    place: str | None,
    surface: str,
    form: str,
) -> None:
    """Show the ice times to come; add one, or read those of an iCalendar file.

    Reading the same file again changes what has changed in it, and takes out what is cancelled. Times are
    those of this computer's time zone.
    """
    from evaltrack.device.tablet import load_tablet
    from evaltrack.rink.ice_time import IceTime, in_order
    from evaltrack.rink.practice import Surface

    with opened(season_file) as season:
        if source:
            say(tr("reading {source} ...", source=source))
            tell_apart(read_in(season, source, only or ""), form)
        if day:
            entry = IceTime(day, start, minutes, place or "", Surface(surface))
            season.calendar.note([entry], load_tablet().id)
        coming = in_order(season.calendar.all(), date.today())
    tell(_as_json(coming) if form == "json" else _as_table(coming), end="")


def tell_apart(sentence: str, form: str) -> None:
    """Tell a sentence; beside JSON on stderr."""
    from evaltrack.cli.telling import warn

    (warn if form == "json" else tell)(sentence)


def read_in(season, source: Path, only: str) -> str:
    """Read an iCalendar file into an open season, and say what became of it."""
    from evaltrack.device.tablet import load_tablet
    from evaltrack.intake.icalendar_file import read_icalendar
    from evaltrack.words.calendar import read_words

    found = read_icalendar(source, date.today(), only)
    return read_words(*season.calendar.take_in(found.entries, found.cancelled, load_tablet().id), found)


def _as_table(coming) -> str:
    from evaltrack.words.calendar import ice_words, when_words

    if not coming:
        return tr("No ice time is in the calendar yet.\n")
    wide = max(len(when_words(one)) for one in coming)
    return "".join(f"{when_words(one):{wide}}  {ice_words(one)}\n" for one in coming)


def _as_json(coming) -> str:
    from evaltrack.paper.tables.for_programs import json_text

    return json_text(
        [
            {
                "date": one.day.isoformat(),
                "start": one.start and f"{one.start:%H:%M}",
                "minutes": one.minutes,
                "surface": str(one.surface),
                "place": one.place,
            }
            for one in coming
        ]
    )
