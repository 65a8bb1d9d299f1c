"""Whether a season file is whole: its pages, what names what, the rules of the log, the counts that it shows.

Everything is counted once more from the facts, one by one and without an index, and held against what the
screens and commands show.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from uuid import UUID

from evaltrack.errors import SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_correction import Stood, corrected
from evaltrack.store import sound
from evaltrack.store.connection import FileConnection, one_view, reading
from evaltrack.store.tally_rows import TALLY_COLUMNS, TallyRows

_MOST_TOLD = 20  # of one kind
# what is said of one row that breaks a rule and of several, and what counts them
_RULES = (
    (
        mark("1 skill has no definition of the version that is in force"),
        mark("{number} skills have no definition of the version that is in force"),
        "SELECT count(*) FROM skill s WHERE NOT EXISTS"
        " (SELECT 1 FROM definition d WHERE d.skill = s.key AND d.version = s.version)",
    ),
    (
        mark("1 tally is of a rep that belongs to another practice"),
        mark("{number} tallies are of a rep that belongs to another practice"),
        "SELECT count(*) FROM tally t JOIN rep r ON r.id = t.rep WHERE r.practice <> t.practice",
    ),
    (
        mark("1 tally is of a rep that is not there"),
        mark("{number} tallies are of a rep that is not there"),
        "SELECT count(*) FROM tally t WHERE rep IS NOT NULL AND NOT EXISTS"
        " (SELECT 1 FROM rep r WHERE r.id = t.rep)",
    ),
    (
        mark("of 1 rotation a change is missing"),
        mark("of {number} rotations changes are missing"),
        "SELECT count(*) FROM (SELECT 1 FROM line_fact GROUP BY practice, tablet"
        " HAVING min(nth) <> 1 OR max(nth) <> count(*))",
    ),
    (
        mark("1 slot leads to a slot that its step does not have, or meets one"),
        mark("{number} slots lead to a slot that their step does not have, or meet one"),
        "SELECT count(*) FROM slot s WHERE EXISTS (SELECT 1 FROM (SELECT s.next AS other UNION ALL"
        " SELECT s.against) WHERE other IS NOT NULL AND NOT EXISTS"
        " (SELECT 1 FROM slot o WHERE o.drill = s.drill AND o.step = s.step AND o.key = other))",
    ),
)


class Checks:
    """Looks through an open season file."""

    def __init__(self, season, connection: FileConnection):
        self._season, self._connection = season, connection

    def findings(self) -> list[str]:
        """Return a sentence for each thing that is not as it must be; none of a whole file."""
        return self._found(self._pages, self._names, self._values, self._rules, self._counts)

    def unreadable(self) -> list[str]:
        """Return a sentence for each thing that cannot be read, or names something that is not there."""
        return self._found(self._pages, self._names, self._values)

    @staticmethod
    def _found(*steps: Callable[[], Iterable[str]]) -> list[str]:
        found: list[str] = []
        for step in steps:
            try:
                found += step()
            except SeasonFileError as error:
                found.append(str(error))
        return list(dict.fromkeys(found))

    @reading()
    def _pages(self) -> list[str]:
        rows = self._connection.execute(f"PRAGMA integrity_check({_MOST_TOLD})").fetchall()
        if rows == [("ok",)]:
            return []
        return [
            tr("the pages of the file are not sound: {what}", what=one_line(str(row[0]))[:200])
            for row in rows
        ]

    @reading()
    def _names(self) -> list[str]:
        rows = self._connection.execute("PRAGMA foreign_key_check").fetchmany(100_000)
        missing = Counter((table, parent) for table, _, parent, _ in rows)
        return [
            tr(
                "the table {table} has {count} rows that name something which is not in the table {parent}",
                table=one_line(table),
                count=count,
                parent=one_line(parent),
            )
            for (table, parent), count in missing.most_common(_MOST_TOLD)
        ]

    def _values(self) -> Iterator[str]:
        for read in self._readers():
            try:
                read()
            except SeasonFileError as error:
                yield str(error)

    def _readers(self) -> Iterator[Callable[[], object]]:
        season = self._season
        people, catalogue, practices = season.people, season.catalogue, season.practices
        yield lambda: (season.team, season.ident, season.created_at, season.loan)
        yield from (people.everyone, people.changes, people.observers)
        yield from (partial(read, retired=True) for read in (catalogue.skills, catalogue.drills))
        yield from (season.catalogue_changes.all, season.catalogue_changes.texts)
        yield from (season.corrections.all, season.tally_corrections.all, season.comments.all)
        yield from (season.last_look.all, season.life.all, season.player_comments.all)
        yield from (season.plans.every, season.calendar.all, self._withdrawals)
        yield from (season.notes.all, season.meetings.all)
        yield practices.every
        for practice in practices.every():
            yield partial(practices.attendance, practice.key)
            yield partial(season.reps.all, practice.key)
            yield from self._of_tablets(practice.key)

    @reading()
    def _of_tablets(self, practice: str) -> list[Callable[[], object]]:
        select = "SELECT tablet FROM station WHERE practice = ?1 UNION SELECT tablet FROM line_fact"
        rows = self._connection.execute(f"{select} WHERE practice = ?1", (practice,)).fetchmany(1000)
        readers = (self._season.practices.station, self._season.reps.facts)
        return [partial(read, practice, sound.tablet(tablet)) for (tablet,) in rows for read in readers]

    @reading()
    def _withdrawals(self) -> None:
        rows = self._connection.execute("SELECT tally, tablet, at FROM withdrawal")
        for tally, tablet, at in sound.no_more_than(sound.MOST_TALLIES, rows, "withdrawals"):
            sound.ident(tally, "a withdrawal")
            sound.tablet(tablet)
            sound.moment(at, "the moment of a withdrawal")

    @reading()
    def _rules(self) -> list[str]:
        found = []
        for one, several, select in _RULES:
            (count,) = self._connection.execute(select).fetchone()
            if count:
                found.append(tr(one) if count == 1 else tr(several, number=count))
        return found

    def _counts(self) -> list[str]:
        with one_view(self._connection):
            return list(self._otherwise())

    def _otherwise(self) -> Iterator[str]:
        stood, log = self._as_they_stand(), self._season.log
        practices = {practice.key: practice for practice in self._season.practices.every()}
        by_practice = Counter(one.tally.practice for one in stood)
        shown = Counter(log.counts())
        for key in sorted({*by_practice, *shown}):
            if by_practice[key] != shown[key]:
                yield (
                    tr(
                        "the practice {key} has {counted} tallies, and {shown} are shown: an index is "
                        "damaged",
                        key=key,
                        counted=by_practice[key],
                        shown=shown[key],
                    )
                )
        counting = [one for one in stood if not practices[one.tally.practice].aside]
        if len(counting) != log.count():
            yield tr(
                "{counting} tallies count, and {shown} are shown: an index is damaged",
                counting=len(counting),
                shown=log.count(),
            )
        if _cells(counting, self._season) != _cells_shown(log.cells()):
            yield tr("the tries of a player in a skill are not those that are shown: an index is damaged")

    @reading()
    def _as_they_stand(self) -> list[Stood]:
        """Return every tally that was not withdrawn or set aside, read without an index."""
        of_each = defaultdict(list)
        for correction in self._season.tally_corrections.all():
            for ident in correction.was:
                of_each[ident].append(correction)
        read = TallyRows(self._connection)
        gone = {raw for (raw,) in self._connection.execute("SELECT tally FROM withdrawal")}
        rows = self._connection.execute(f"SELECT {TALLY_COLUMNS} FROM tally NOT INDEXED ORDER BY id")
        rows = sound.no_more_than(sound.MOST_TALLIES, rows, "tallies")
        tallies = (read.tally(row) for row in rows if row[0] not in gone)
        stood = (corrected(tally, of_each.get(tally.id, ())) for tally in tallies)
        return [one for one in stood if not one.aside]


def _cells(counting: list[Stood], season) -> dict[tuple, tuple[int, int]]:
    """Count the tries of each player, skill, practice, step, pressure and observer."""
    versions = {skill.key: skill.version for skill in season.catalogue.skills(retired=True)}
    cells: dict[tuple, list[int]] = defaultdict(lambda: [0, 0])
    for one in counting:
        tally = one.tally
        if tally.outcome is not Outcome.UNSEEN and tally.skill_version == versions[tally.skill]:
            of_cell = cells[_key(tally)]
            of_cell[0] += 1
            of_cell[1] += tally.outcome is Outcome.DONE
    return {key: (tries, done) for key, (tries, done) in cells.items()}


def _key(tally) -> tuple[UUID, str, str, str, str, bool | None, str]:
    t = tally
    return (t.player, t.skill, t.practice, t.drill, t.step, t.pressure, t.observer)


def _cells_shown(rows: list[tuple]) -> dict[tuple, tuple[int, int]]:
    cells: dict[tuple, list[int]] = defaultdict(lambda: [0, 0])
    for player, skill, practice, _, drill, step, pressure, observer, _, tries, done in rows:
        pressed = None if pressure is None else bool(pressure)
        of_cell = cells[UUID(bytes=player), skill, practice, drill, step, pressed, observer]
        of_cell[0] += tries
        of_cell[1] += done
    return {key: (tries, done) for key, (tries, done) in cells.items()}
