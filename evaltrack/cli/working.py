"""What several commands do with a season file. Whatever is heavy is imported when it is needed."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.cli.closed import refuse_closed
from evaltrack.cli.season_days import (
    filed,
    fresh_of,
    refuse_strange_days,
    tell_strays,
    tell_what_counts_otherwise,
)
from evaltrack.cli.telling import say, tell, warn
from evaltrack.errors import EvaltrackError
from evaltrack.founding.season import found_season
from evaltrack.language import Language, mark, speaking, tr, tr_many
from evaltrack.language import language as spoken
from evaltrack.paper.note.forms import Wanted
from evaltrack.paper.tables.practices import Held, read_held
from evaltrack.paper.tables.strict_observers import as_table
from evaltrack.rink.player import Player
from evaltrack.words.observers import strict_words
from evaltrack.words.sums import kinds_words, sum_of, tallies_words
from evaltrack.words.wording import counted

_UNKNOWN = {
    "player": mark("there is no player {asked} in this season{which}"),
    "skill": mark("there is no skill {asked} in this season{which}"),
    "drill": mark("there is no drill {asked} in this season{which}"),
    "step": mark("there is no step {asked} in this season{which}"),
    "practice": mark("there is no practice {asked} in this season{which}"),
    "meeting of player": mark("there is no meeting of player {asked} in this season{which}"),
}
PAPERS = {"letter": "us-letter", "a4": "a4"}


def opened(path: Path, loan: bool = False, of_children: bool = False):
    """Open a season file; one that is on loan only where the command is for a ``loan`` too.

    What is ``of_children`` is refused of a season that was closed, instead of being told of nobody.
    """
    from evaltrack.store.opening import open_season

    season = open_season(path)
    try:
        if not loan:
            season.refuse_loan()
        if of_children:
            refuse_closed(season)
    except EvaltrackError:
        season.close()
        raise
    return season


@contextmanager
def refuse_open_window(season, what: str = "") -> Iterator[None]:
    """Run a change of what an app window would go on showing as it was; EvaltrackError while one is open.

    ``what`` is what can be changed in the window too.
    """
    from evaltrack.device.season_claim import SeasonClaim

    claim = SeasonClaim()
    try:
        if not claim.take(season.path):
            if not what:
                raise EvaltrackError(tr("the season is open in a window of the app; close that window first"))
            raise EvaltrackError(
                tr(
                    "the season is open in a window of the app; change {what} there, or close that window "
                    "first",
                    what=what,
                )
            )
        yield
    finally:
        claim.leave()


def created(
    path: Path,
    team: str,
    age_class: str,
    roster: Path,
    skills: Path | None = None,
    drills: Path | None = None,
    invented: bool = False,
):
    """Make a season file from a roster; without skills or drills it has those that are shipped.

    Everything is read first, so that a fault in any of the files leaves no season file.
    """
    from evaltrack.intake.roster import read_roster

    return found_season(path, team, age_class, read_roster(roster), skills, drills, invented)


def taken_in(season, path: Path) -> str:
    """Load a tallies.csv and say what became of it."""
    from evaltrack.intake.tallies import read_tallies

    say(tr("reading {path} ...", path=path))
    catalogue, people = season.catalogue, season.people
    known = people.everyone(), catalogue.skills(retired=True), catalogue.drills(retired=True)
    read = read_tallies(path, *known, people.changes())
    days = sorted(practice.held_on for practice in read.practices)
    say(tr("writing ..."))
    with season.together():
        fresh = fresh_of(season, read.tallies)
        practices, tallies = filed(season, read.practices, fresh)
        known = [practice.held_on for practice in season.practices.all()]
        refuse_strange_days(path, [practice.held_on for practice in practices], known)
        new = season.log.add_many(practices, tallies)
    tell_strays(season)
    tell_what_counts_otherwise(season, read.tallies, practices if new else [])
    held = counted(len(read.practices), "practice")
    found = sum_of(read.tallies)
    tallies, parts = tallies_words(found), kinds_words(found)
    tried = f"{tallies} ({parts})" if parts else tallies
    span = {"tried": tried, "held": held, "new": new}
    if days:
        span |= {"first": days[0], "last": days[-1]}
        said = tr("{tried} of {held} read, {new} of them new, {first} to {last}", **span)
    else:
        said = tr("{tried} of {held} read, {new} of them new", **span)
    return said + _passed_over(read.passed)


def _passed_over(lines: int) -> str:
    if not lines:
        return ""
    return tr_many(
        "; {number} line without a count passed over", "; {number} lines without a count passed over", lines
    )


def worked_out(
    season, as_of: date | None = None, skill: str | None = None, left: bool = False
) -> list[Standing]:
    """Return the standings of the season; with ``left`` also those of players who have left."""
    from evaltrack.analysis.standings.standings import read_standings

    say(tr("working out the standings ..."))
    return read_standings(season, as_of=as_of, skill=skill, left=left)


def worked_out_with_observers(
    season, as_of: date | None = None, skill: str | None = None, left: bool = False
) -> tuple:
    """Return the standings of the season, and who is much stricter than the other observers.

    With ``left`` also those of players who have left.
    """
    from evaltrack.analysis.standings.standings import read_with_observers

    say(tr("working out the standings ..."))
    return read_with_observers(season, as_of=as_of, skill=skill, left=left)


def season_seen(season, as_of: date | None = None):
    """Return the season as a whole, a `SeasonView`."""
    from evaltrack.analysis.team.season_view import read_season_view

    say(tr("working out how the team goes ..."))
    return read_season_view(season, as_of)


def tell_strict(strict: Sequence[StrictObserver], form: str) -> None:
    """Say who is much stricter than the other observers: below a table, or beside what goes to a program."""
    if form == "table":
        tell(as_table(strict), end="")
        return
    for one in strict:
        warn(strict_words(one))


def noted(
    season,
    standings: Iterable[Standing],
    folder: Path,
    players: Sequence[Player] | None = None,
    as_of: date | None = None,
    wanted: Wanted | None = None,
    meeting: date | None = None,
    language: Language | None = None,
) -> list:
    """Write the notes of these players, or of all, and return what became of each.

    They carry what the coach changed of the page of that day in the app, and the word draft unless it was
    read there as it stands. ``meeting`` stands on those of which nothing is kept;
    ``language`` is that of all of them, else each is in its family's.
    """
    from evaltrack.paper.note.notes import write_notes
    from evaltrack.words.family.in_force import read_kept

    def tell(note) -> None:
        say(tr("note for {number} {name}", number=note.player.number, name=note.player.name))

    standings, players = list(standings), season.people.players() if players is None else players
    kept = read_kept(season, standings, players, as_of).in_language(language)
    with speaking(language or spoken()):
        edits = kept.edits_with(meeting, players)
    return write_notes(season, standings, folder, players, as_of, wanted, edits, kept.read, tell)


def asked_for(season, number: str | None, left: bool = False) -> list[Player]:
    """Return who has this number, or the whole roster when none was named; with ``left`` who has left too."""
    from evaltrack.intake.roster import jersey_number, number_fault

    roster = season.people.everyone() if left else season.people.players()
    if number is None:
        return roster
    worn = jersey_number(number)
    if worn is None:
        raise EvaltrackError(number_fault(number))
    refuse_closed(season)
    refuse_unknown("player", worn, [player.number for player in roster])
    return [player for player in roster if player.number == worn]


def whom(season, number: str, name: str | None) -> tuple[Player, list[Player]]:
    """Return the player who is meant, and all others."""
    meant = [one for one in asked_for(season, number, left=True) if name in (None, one.name)]
    if not meant:
        raise EvaltrackError(
            tr('nobody called "{name}" has worn {number} last; look at the roster', name=name, number=number)
        )
    if len(meant) > 1:
        names = ", ".join(f'"{one.name}"' for one in meant)
        raise EvaltrackError(
            tr(
                "several players have worn {number}: {names}; say which with --name",
                number=meant[0].number,
                names=names,
            )
        )
    return meant[0], [one for one in season.people.everyone() if one.id != meant[0].id]


def refuse_unknown(kind: str, asked: str, known: Sequence[str]) -> None:
    """Raise EvaltrackError, with what may have been meant, when the season does not have it."""
    from evaltrack.intake.text import meant, shown

    if asked not in known:
        which = meant(asked, known) if known else tr(": it has none")
        raise EvaltrackError(tr(_UNKNOWN[kind], asked=shown(asked), which=which))


def contents(season) -> str:
    """Return what a season file has: how many players, skills and drills."""
    catalogue = season.catalogue
    players = counted(len(season.people.players()), "player")
    skills, drills = counted(len(catalogue.skills()), "skill"), counted(len(catalogue.drills()), "drill")
    return f"{players}, {skills}, {drills}"


def refuse_unknown_skill(season, skill: str | None) -> None:
    """Refuse a skill that the season does not have."""
    if skill is not None:
        refuse_unknown("skill", skill, [known.key for known in season.catalogue.skills()])


def practice_asked_for(season, key: str) -> Held:
    """Return the practice with this key and what is known of it."""
    rows = {row.practice.key: row for row in read_held(season)}
    if not rows:
        raise EvaltrackError(tr("there is no practice in this season yet"))
    refuse_unknown("practice", key, list(rows))
    return rows[key]
