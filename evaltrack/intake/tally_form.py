"""The blank form into which the ticks of a sheet are typed: a tallies.csv that waits for its counts."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from evaltrack.intake.csv_text import csv_text
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome

COLUMNS = ("times", "player", "outcome", "pressure", "skill", "date", "drill", "step", "observer")


def form_text(
    kinds: Iterable[tuple[Skill, Player, str, Outcome]], at: tuple[Drill, Step], day: date, observer: str = ""
) -> str:
    """Return the form: one line for each kind of try, the counts first, so that typing goes straight down.

    Parameters
    ----------
    kinds : as ``kinds_of_try`` gives them.
    at : the drill and the step that the sheet was for.

    Notes
    -----
    Numbers are written as #00 and the day as 2025_09_04: a spreadsheet would make 0 of 00, which is another
    jersey, and rewrite a date in a form of its own. No name is in it.
    """
    drill, step = at
    same = (day.isoformat().replace("-", "_"), drill.key, step.key, observer)
    lines = (
        ("", f"#{player.number}", outcome, pressure, skill.key, *same)
        for skill, player, pressure, outcome in kinds
    )
    return csv_text(COLUMNS, lines, line_end="\r\n")


def kinds_of_try(
    skill: Skill, likely: Sequence[Player], others: Sequence[Player] = ()
) -> Iterator[tuple[Skill, Player, str, Outcome]]:
    """Yield every kind of try of a skill that a sheet has boxes for, in the order in which eyes go over it.

    First what was ticked without pressure, tile by tile, missed and done; then the shaded rows, so that
    who has none there is done. Last, all of it again for ``others``, who were hardly watched.
    """
    for players in (likely, others):
        for pressure in ("no", "yes"):
            for player in players:
                for outcome in (Outcome.MISSED, Outcome.DONE):
                    yield skill, player, pressure, outcome
