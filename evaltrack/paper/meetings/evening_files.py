"""All files of an evening of meetings, written into one folder."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.intake.saving import save
from evaltrack.paper.meetings.calendar_file import calendar_file
from evaltrack.paper.meetings.printed import print_cards, print_list, print_overview
from evaltrack.paper.render import Printed
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.placed_evening import entries_of
from evaltrack.rink.player import Player
from evaltrack.rink.short_names import short_names
from evaltrack.words.date_axis import axis_of
from evaltrack.words.meeting_cards import read_cards
from evaltrack.words.team_overview import overview_of


@dataclass
class EveningFiles:
    """What was written, and what the coach must look at before anything is used."""

    written: list[Path] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)

    def add(self, target: Path, made: Printed | bytes) -> None:
        """Write a file that its owner alone may read."""
        save(target, made if isinstance(made, bytes) else made.content)
        self.written.append(target)
        if isinstance(made, Printed) and made.problem:
            self.problems.append(f"{target.name}: {made.problem}")


def write_evening(
    season,
    evening: Evening,
    standings: Sequence[Standing],
    folder: Path,
    paper: str = "letter",
    with_names: bool = False,
    as_of: date | None = None,
) -> EveningFiles:
    """Write the list, the calendar, the cue cards and the overview of an evening that was kept.

    Parameters
    ----------
    season : open, with the evening in it.
    folder : must be there.
    with_names : whether first names stand in the titles of the calendar, beside the numbers.
    as_of : the day of the standings; without one, the last practice.
    """
    players = {player.id: player for player in season.people.everyone()}
    team, day = str(season.team), evening.day.isoformat()
    files = EveningFiles()
    files.add(folder / f"meetings-{day}.pdf", print_list(team, evening, players, paper))
    entries = entries_of(season.meetings.of(evening.key))
    labels = _labels(players, [entry.player for entry in entries], with_names)
    stamp = datetime.now(UTC)
    files.add(folder / f"meetings-{day}.ics", calendar_file(entries, labels, evening.tables, stamp))
    own = [players[player] for player in evening.slots]
    cards, axis = read_cards(season, standings, own, as_of, evening.day), axis_of(standings)
    made = print_cards(team, evening, cards, axis and axis.last, paper)
    files.add(folder / f"cue-cards-{day}.pdf", made)
    overview = overview_of(team, season.people.players(), season.catalogue.skills(), standings)
    if overview:
        files.add(folder / f"team-overview-{day}.pdf", print_overview(overview, paper))
    return files


def _labels(players: Mapping[UUID, Player], wanted: Sequence[UUID], with_names: bool) -> dict[UUID, str]:
    own = [players[one] for one in dict.fromkeys(wanted) if one in players]
    short = short_names(own) if with_names else {}
    return {one.id: f"{one.number} {short[one.id]}" if with_names else one.number for one in own}
