"""The whole team on one page for the coaches: players by number, skills across, counts with intervals."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.founding.built_in import in_words
from evaltrack.language import mark, tr
from evaltrack.rink.player import Player, Position, by_number
from evaltrack.rink.short_names import short_names
from evaltrack.rink.skill import Skill
from evaltrack.words.date_axis import axis_of
from evaltrack.words.wording import (
    ENOUGH,
    call_words,
    count_words,
    group_word,
    is_firm,
    long_date,
    tenths_words,
)

_HOW_TO = mark(
    "Players stand in order of number, never of score. The bar is where a player's share very likely is now, "
    "from none on the left to all on the right, the dot the best guess. A grey count has no bar: under "
    "{enough}, or the estimate does not stand. Where two bars overlap, do not call one player better."
)


def how_to() -> str:
    """Return how the page is read."""
    return tr(_HOW_TO, enough=tr(ENOUGH))


@dataclass(frozen=True, slots=True)
class OverviewCell:
    """One player in one skill; the shares are None where nothing is firm.

    ``span`` is in tenths, as in ``5 to 8``; ``marked`` says that the call is to work on it.
    """

    count: str
    span: str = ""
    call: str = ""
    marked: bool = False
    share: float | None = None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class OverviewBlock:
    """One position group: its skills, and a row for each player with a cell, or None, for each skill."""

    heading: str
    skills: tuple[str, ...]
    rows: tuple[tuple[str, str, tuple[OverviewCell | None, ...]], ...]


@dataclass(frozen=True, slots=True)
class Overview:
    """The page: ``last`` is the day up to which is counted."""

    team: str
    last: date
    blocks: tuple[OverviewBlock, ...]

    @property
    def heading(self) -> str:
        """Return what the page is."""
        return tr("Team overview up to {day}", day=long_date(self.last))


def overview_of(
    team: str, players: Iterable[Player], skills: Sequence[Skill], standings: Sequence[Standing]
) -> Overview | None:
    """Return the overview; None where nothing has been tallied.

    Parameters
    ----------
    skills : of the catalogue, in its order; those in which nobody of a group has a try are left out there.
    """
    if not standings:
        return None
    players, cells = sorted(players, key=by_number), {(s.player, s.skill): s for s in standings}
    short = short_names(players)
    blocks = []
    for group in Position:
        own = [one for one in players if one.position is group]
        seen = [skill for skill in skills if any((one.number, skill.key) in cells for one in own)]
        rows = tuple(
            (one.number, short[one.id], tuple(_cell(cells.get((one.number, skill.key))) for skill in seen))
            for one in own
        )
        if own:
            blocks.append(
                OverviewBlock(group_word(group), tuple(in_words(skill.name) for skill in seen), rows)
            )
    return Overview(team, axis_of(standings).last, tuple(blocks))


def _cell(standing: Standing | None) -> OverviewCell | None:
    if standing is None:
        return None
    count, call = count_words(standing.done, standing.tries), call_words(standing)
    if not is_firm(standing):
        return OverviewCell(count)
    ends = standing.share, standing.low, standing.high
    span, marked = tenths_words(standing.low, standing.high), standing.call is Call.WORK_ON
    return OverviewCell(count, span, call, marked, *(round(float(end), 3) for end in ends))
