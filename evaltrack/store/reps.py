"""Reps in the season file, and the facts from which rotations are played again."""

from collections import defaultdict
from collections.abc import Container, Iterable, Mapping
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.store import sound
from evaltrack.store.connection import FileConnection, reading, transaction
from evaltrack.store.known import known_players, known_steps

Moves = Iterable[tuple[UUID, UUID]]

_REP = "INSERT INTO rep (id, practice, drill, step, tablet, at) VALUES (?, ?, ?, ?, ?, ?)"
# the number follows from the file and not from a clock, which may be set back in mid-practice
_FACT = (
    "INSERT INTO line_fact (practice, tablet, nth, change, drill, step, rep, slot, player, position, at)"
    " SELECT :practice, :tablet, coalesce(max(nth), 0) + 1, :change, :drill, :step, :rep, :slot, :player,"
    " :position, :at FROM line_fact WHERE practice = :practice AND tablet = :tablet RETURNING nth"
)


class Reps:
    """Who was in which slot, and every change of the rotation that a tablet keeps. All of it only grows."""

    def __init__(self, connection: FileConnection):
        self._connection = connection

    def begin(self, rep: Rep, fact: RotationFact) -> int:
        """Commit that a rep begins with these slots, and the change of the rotation that began it.

        Returns the number that the change has in the file.

        Raises
        ------
        NotSavedError
            Nothing of it is on disk.
        """
        with transaction(self._connection):
            self._add_rep(rep)
            return self._add_fact(fact)

    def correct(
        self, fact: RotationFact, moved: Moves = (), stood: Mapping[str, UUID | None] | None = None
    ) -> int:
        """Commit a change of the rotation during a rep, and the tallies that it gave to another player.

        ``stood`` says of slots who was there after all, None for nobody. Returns the number that the change
        has in the file.

        Raises
        ------
        NotSavedError
            Nothing of it is on disk.
        """
        with transaction(self._connection):
            nth = self._add_fact(fact)
            self._connection.executemany(
                "INSERT INTO moved VALUES (?, ?, ?, ?, ?)",
                [(fact.practice, fact.tablet, nth, was.bytes, becomes.bytes) for was, becomes in moved],
            )
            self._connection.executemany(
                "INSERT INTO stood VALUES (?, ?, ?, ?)",
                [(fact.rep.bytes, slot, nth, who and who.bytes) for slot, who in (stood or {}).items()],
            )
        return nth

    @reading()
    def moved(self, practice: str, tablet: str) -> dict[int, list[tuple[UUID, UUID]]]:
        """Return the tallies that changes of the rotation gave to another player, by number of the change.

        Each is a pair: the id of the tally that was withdrawn, and of the one that stands for it.
        """
        rows = self._connection.execute(
            "SELECT nth, was, becomes FROM moved WHERE practice = ? AND tablet = ? ORDER BY nth, was",
            (practice, tablet),
        )
        moved = defaultdict(list)
        for nth, *pair in sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "tallies that changed hands"):
            moved[nth].append(tuple(sound.ident(one, "a tally that changed hands") for one in pair))
        return dict(moved)

    @reading()
    def facts(self, practice: str, tablet: str) -> list[RotationFact]:
        """Return the facts from which the tablet's rotation at a practice is played again, in order."""
        starts = self._starts(practice, tablet)
        rows = self._connection.execute(
            "SELECT nth, drill, step, change, rep, slot, player, position, at FROM line_fact"
            " WHERE practice = ?1 AND tablet = ?2 AND nth >= (SELECT max(nth) FROM line_fact"
            " WHERE practice = ?1 AND tablet = ?2 AND change = 'first') ORDER BY nth",
            (practice, tablet),
        )
        rows = sound.no_more_than(sound.MOST_FACTS, rows, "changes of a rotation")
        if starts and not rows:
            raise sound.damaged(tr("a rotation lacks its changes"))
        if len(rows) * max(map(len, starts.values()), default=0) > sound.MOST_TURNS:
            raise sound.damaged(tr("a rotation has more changes and players than a practice can have"))
        steps, players = known_steps(self._connection), known_players(self._connection)
        return [_fact(practice, tablet, row, tuple(starts[row[0]]), steps, players) for row in rows]

    @reading()
    def all(self, practice: str) -> list[Rep]:
        """Return the reps of a practice in order of time, with who was in the slots when each began."""
        rows = self._connection.execute(
            "SELECT id, practice, drill, step, tablet, at FROM rep WHERE practice = ? ORDER BY id",
            (practice,),
        )
        rows = sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "reps of a practice")
        return [self._rep(*row) for row in rows]

    def _add_rep(self, rep: Rep) -> None:
        self._connection.execute(_REP, (rep.id.bytes, rep.practice, rep.drill, rep.step, rep.tablet, rep.at))
        rows = [(rep.id.bytes, slot, player.bytes) for slot, player in rep.slots.items()]
        self._connection.executemany("INSERT INTO rep_slot VALUES (?, ?, ?)", rows)

    def _add_fact(self, fact: RotationFact) -> int:
        (nth,) = self._connection.execute(_FACT, _row(fact)).fetchone()
        if fact.start:
            rows = [
                (fact.practice, fact.tablet, nth, place, player.bytes, group)
                for place, (player, group) in enumerate(fact.start)
            ]
            self._connection.executemany("INSERT INTO line_start VALUES (?, ?, ?, ?, ?, ?)", rows)
        return nth

    def _starts(self, practice: str, tablet: str) -> dict[int, list[tuple[UUID, Position]]]:
        starts = defaultdict(list)
        rows = self._connection.execute(
            "SELECT nth, player, position FROM line_start WHERE practice = ? AND tablet = ?"
            " ORDER BY nth, place",
            (practice, tablet),
        )
        players = known_players(self._connection)
        for nth, player, group in sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "players who lined up"):
            who = sound.of(players, player, "a player who lined up")
            starts[nth].append((who, sound.word(Position, group, "the group of a player who lined up")))
        return starts

    def _rep(self, raw, practice, drill, step, tablet, at) -> Rep:
        sound.among(known_steps(self._connection), (drill, step), "a rep")
        at = sound.moment(at, "the moment of a rep")
        ident = sound.ident(raw, "the id of a rep")
        return Rep(practice, drill, step, self._slots(raw), sound.tablet(tablet), at, ident)

    def _slots(self, rep: bytes) -> dict[str, UUID]:
        rows = self._connection.execute("SELECT slot, player FROM rep_slot WHERE rep = ?", (rep,))
        return {
            sound.key(slot, "a slot of a rep"): sound.ident(player, "a player in a rep")
            for slot, player in sound.no_more_than(sound.MOST_SLOTS, rows, "slots of a rep")
        }


def _row(fact: RotationFact) -> dict:
    return {
        "practice": fact.practice,
        "tablet": fact.tablet,
        "change": fact.change,
        "drill": fact.drill,
        "step": fact.step,
        "rep": fact.rep.bytes,
        "slot": fact.slot,
        "player": fact.player.bytes if fact.player else None,
        "position": fact.group,
        "at": fact.at,
    }


def _fact(
    practice: str,
    tablet: str,
    row: tuple,
    start: tuple[tuple[UUID, Position], ...],
    steps: Container[tuple[str, str]],
    players: dict[bytes, UUID],
) -> RotationFact:
    nth, drill, step, change, rep, slot, player, group, at = row
    sound.among(steps, (drill, step), "a change of a rotation")
    fact = RotationFact(
        practice,
        tablet,
        drill,
        step,
        sound.word(Change, change, "a change of a rotation"),
        sound.ident(rep, "the rep of a change of a rotation"),
        sound.maybe(sound.key, slot, "the slot of a change of a rotation"),
        None if player is None else sound.of(players, player, "a change of a rotation"),
        None if group is None else sound.word(Position, group, "the group of a player who arrives"),
        start,
        sound.moment(at, "the moment of a change of a rotation"),
        sound.whole(nth, "the number of a change of a rotation", low=1),
    )
    if any(getattr(fact, part) is None for part in fact.change.needs):
        raise sound.unlike("a change of a rotation")
    return fact
