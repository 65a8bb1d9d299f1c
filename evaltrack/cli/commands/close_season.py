"""The command that closes a season: the team's figures stay, the children are forgotten."""

from datetime import date
from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import say, tell
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

_CLOSE = """\b
Example:  evaltrack close-season lanterns.db
          evaltrack close-season lanterns.db --yes
          evaltrack close-season lanterns.db --yes --out whom-to-ask.txt
"""


@command("close-season", epilog=_CLOSE)
@season_file
@option("--yes", is_flag=True, help="Close it; without it only what would go is said.")
@option("--out", "receipt", type=FILE, metavar="FILE", help="Write what is told into a text file too.")
def close_season(season_file: Path, yes: bool, receipt: Path | None) -> None:
    """Close a season: forget every child, and keep what the team did.

    Names, numbers, birth years, comments, families' pages, meetings and plans go out of the season file for
    good, and so do the app's own backups and pages. The tries stay as nobody's, so that the team can be
    looked at as before. Every other file that has a name, and every day on which pages were printed, is
    listed, so that people can be asked. It cannot be undone. Without --yes it only says what would go, and
    ends with 1.
    """
    from evaltrack.device.tablet import load_tablet
    from evaltrack.founding.closing import close_season as close
    from evaltrack.intake.saving import save
    from evaltrack.words import closing as words

    say(tr("closing ..."))
    closed = close(season_file, date.today(), load_tablet().id, rehearse=not yes)
    lines = words.after_lines(closed) if yes else [tr(words.FIRST), *words.before_lines(closed)]
    lines += [*words.asked_lines(closed, not yes), tr(words.FOR_GOOD)]
    text = "\n".join(lines)
    tell(text)
    if receipt is not None:  # it is told already: where it cannot be saved, it is not lost
        save(receipt, f"{text}\n".encode())
    if not yes:
        raise EvaltrackError(tr(words.REHEARSED))
