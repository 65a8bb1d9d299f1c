"""The command that says, or changes, until when a season keeps children's data."""

from datetime import date
from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import Day
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened

_KEEP = """\b
Example:  evaltrack keep lanterns.db
          evaltrack keep lanterns.db --until 2027-06-30
"""


@command(epilog=_KEEP)
@season_file
@option("--until", type=Day(), metavar="DATE", help="The last day on which they are kept.")
def keep(season_file: Path, until: date | None) -> None:
    """Say until when children's data are kept, or choose the day.

    From two weeks before it the app reminds, and nothing goes by itself: close-season is the step that lets
    them go. The day goes with the file, and with packs.
    """
    from evaltrack.device.tablet import load_tablet
    from evaltrack.words.season_life import closed_words, keep_words, reminder

    with opened(season_file, of_children=until is not None) as season:
        if until is not None:
            season.life.keep_until(until, load_tablet().id)
        kept, closed = season.life.retention(), season.life.closed()
    if closed:
        tell(closed_words(closed))
        return
    today = date.today()
    tell(reminder(kept, today) if kept.is_past(today) else keep_words(kept))
