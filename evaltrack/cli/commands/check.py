"""The command that looks whether a season file is whole."""

from pathlib import Path

from evaltrack.cli.asking import command, season_file
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr


@command(epilog="\b\nExample:  evaltrack check lanterns.db")
@season_file
def check(season_file: Path) -> None:
    """Look whether a season file is whole; it ends with 0 only when it is.

    It looks at the pages of the file, at what names what, at every value and at the rules of the log, and
    counts all tallies once more from the facts. Each finding is a sentence. Whether the disk changed a
    name or a time of day into another one, nobody can see.
    """
    with opened(season_file, loan=True) as season:
        say(tr("looking through it ..."))
        found = season.checks.findings()
        if found:
            raise EvaltrackError("\n".join(tr("{name}: {what}", name=season_file, what=one) for one in found))
        tell(
            tr(
                "{season_file} is whole: {count} tallies, each counted once more from the facts",
                season_file=season_file,
                count=season.log.count(),
            )
        )
