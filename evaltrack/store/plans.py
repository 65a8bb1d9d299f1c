"""Plans of practices in the season file. They only grow; the one that was written last is in force."""

import sqlite3
from collections.abc import Iterator
from datetime import date
from itertools import chain

from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.ident import now_ms
from evaltrack.rink.plan import Grouping, Part, WishKind
from evaltrack.rink.plan_card import CardBlock, CardLook, CardPlace, CardWish, PlanCard
from evaltrack.rink.practice import Surface
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players

_LONGEST = 600  # minutes
_INSERT = "INSERT INTO practice_plan VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_HEAD = "nth, tablet, day, ice_time, practice, stations, coaches, surface, grouping, band_low, band_high"


class Plans:
    """The plans of the season, each change of one among them."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, card: PlanCard, tablet: str = "", at: int | None = None) -> None:
        """Keep a plan, or what it has become; NotSavedError when it is not on disk."""
        low, high = (round(100 * end) for end in card.band)
        moment = now_ms() if at is None else at
        head = (
            *(tablet, card.day.isoformat(), card.ice_time, card.practice),
            *(card.minutes, card.stations, card.coaches),
            *(card.surface, card.grouping, low, high, moment),
        )
        with transaction(self._connection):
            nth = next_number(self._connection, "practice_plan", moment)  # of all plans one is the last
            self._connection.execute(_INSERT, (nth, *head))
            for table, rows in _rows(card).items():
                if rows:
                    marks = ", ".join("?" * len((nth, tablet, *rows[0])))
                    whole = [(nth, tablet, *row) for row in rows]
                    self._connection.executemany(f"INSERT INTO {table} VALUES ({marks})", whole)

    @reading()
    def last(self) -> PlanCard | None:
        """Return the plan that was written last."""
        return next(self._read("ORDER BY nth DESC, tablet DESC LIMIT 1"), None)

    @reading()
    def every(self) -> list[PlanCard]:
        """Return all that was written, as it came."""
        return list(self._read("ORDER BY nth, tablet LIMIT 5000"))

    @reading()
    def unreadable(self) -> list[tuple[int, str]]:
        """Return number and tablet of each plan that is damaged."""
        found = []
        for nth, tablet in self._connection.execute("SELECT nth, tablet FROM practice_plan").fetchall():
            try:
                list(self._read("WHERE nth = ? AND tablet = ?", nth, tablet))
            except SeasonFileError:
                found.append((nth, tablet))
        return found

    @reading()
    def numbered(self, nth: int, tablet: str) -> PlanCard | None:
        """Return the plan that a tablet wrote under this number."""
        return next(self._read("WHERE nth = ? AND tablet = ?", nth, tablet), None)

    @reading()
    def of_practice(self, key: str) -> PlanCard | None:
        """Return the plan from which a practice was started, as it was written last; None without one."""
        return next(self._read("WHERE practice = ? ORDER BY nth DESC, tablet DESC LIMIT 1", key), None)

    @reading()
    def of_day(self, day: date) -> list[PlanCard]:
        """Return what was written for a day, as it came."""
        return list(self._read("WHERE day = ? ORDER BY nth, tablet LIMIT 1000", day.isoformat()))

    @reading()
    def groups_before(self, day: date) -> tuple[frozenset[str], ...]:
        """Return the numbers of the players of each group of the last plan for an earlier day."""
        found = self._read("WHERE day < ? ORDER BY day DESC, nth DESC, tablet DESC LIMIT 1", day.isoformat())
        card = next(found, None)
        if card is None:
            return ()
        numbers = {
            ident: number for ident, number in self._connection.execute("SELECT id, number FROM player")
        }
        return tuple(
            frozenset(sound.digits(numbers[player.bytes], "the number of a player") for player in group)
            for group in card.groups
        )

    def _read(self, which: str, *given: str | int) -> Iterator[PlanCard]:
        for row in self._connection.execute(f"SELECT {_HEAD} FROM practice_plan {which}", given).fetchall():
            yield self._card(*row)

    def _card(
        self, nth, tablet, day, ice_time, practice, stations, coaches, surface, grouping, *band
    ) -> PlanCard:
        known = known_players(self._connection)
        parts = {table: self._rows_of(table, nth, tablet) for table in _TABLES}
        blocks = tuple(_block(*row) for row in parts["plan_block"])
        if not blocks:
            raise sound.damaged(tr("a plan has no blocks"))
        reasons = [
            (_maybe(skill, "a reason"), sound.text(words, "a reason"))
            for _, skill, words in parts["plan_reason"]
        ]
        return PlanCard(
            day=sound.day(day, "the day of a plan"),
            blocks=blocks,
            starts=tuple(_keys(drill, step) for _, drill, step in parts["plan_station"]),
            places=_places(parts["plan_place"], known, len(parts["plan_station"])),
            looks=tuple(_look(row, known, len(blocks)) for row in parts["plan_look"]),
            train=tuple((skill, words) for skill, words in reasons if skill),
            remarks=tuple(words for skill, words in reasons if not skill),
            ice_time=_maybe(ice_time, "the ice time of a plan"),
            practice=_maybe(practice, "the practice of a plan"),
            stations=sound.whole(stations, "the stations of a plan", 1, 100),
            coaches=sound.whole(coaches, "the coaches of a plan", 0, 100),
            surface=sound.word(Surface, surface, "the surface of a plan"),
            grouping=sound.word(Grouping, grouping, "the groups of a plan"),
            band=tuple(sound.whole(end, "the band of a plan", 1, 100) / 100 for end in band),
            wishes=tuple(_wish(row, known) for row in parts["plan_wish"]),
        )

    def _rows_of(self, table: str, nth: int, tablet: str) -> list[tuple]:
        columns, order = _TABLES[table]
        rows = self._connection.execute(
            f"SELECT {columns} FROM {table} WHERE nth = ? AND tablet = ? ORDER BY {order}", (nth, tablet)
        )
        return sound.no_more_than(sound.MOST_PLAYERS, rows, "rows of a plan")


_TABLES = {  # what is read of each, and in which order
    "plan_block": (
        "part, minutes, drill, step, skills, watch, why, pace, fewest, most, locked",
        "place",
    ),
    "plan_station": ("station, drill, step", "station"),
    "plan_place": ("player, station, locked", "player"),
    "plan_look": ("block, player, why", "place"),
    "plan_reason": ("place, skill, words", "place"),
    "plan_wish": ("kind, player, other, binds, why", "place"),
}


def _rows(card: PlanCard) -> dict[str, list[tuple]]:
    """Return the rows of a plan by table, without what they all begin with."""
    reasons = chain(card.train, (("", words) for words in card.remarks))
    return {
        "plan_block": [
            (
                *(at, b.part, b.minutes, b.drill, b.step, " ".join(b.skills), b.watch, b.why, b.pace),
                *(float(b.fewest), float(b.most), int(b.locked)),
            )
            for at, b in enumerate(card.blocks)
        ],
        "plan_station": [(at, *keys) for at, keys in enumerate(card.starts)],
        "plan_place": [
            (player.bytes, place.station, int(place.locked)) for player, place in card.places.items()
        ],
        "plan_look": [(at, look.block, look.player.bytes, look.why) for at, look in enumerate(card.looks)],
        "plan_reason": [(at, *reason) for at, reason in enumerate(reasons)],
        "plan_wish": [
            (at, wish.kind, wish.player.bytes, wish.other.bytes, int(wish.binds), wish.why)
            for at, wish in enumerate(card.wishes)
        ],
    }


def _block(part, minutes, drill, step, skills, watch, why, pace, fewest, most, locked) -> CardBlock:
    what = "a block of a plan"
    return CardBlock(
        sound.word(Part, part, what),
        sound.whole(minutes, what, 0, _LONGEST),
        _maybe(drill, what),
        _maybe(step, what),
        sound.keys(skills, what),
        _maybe(watch, what),
        sound.text(why, what),
        sound.text(pace, what),
        _tries(fewest),
        _tries(most),
        sound.flag(locked, what),
    )


def _tries(value: object) -> float:
    if type(value) is not float or not 0 <= value < 10_000:
        raise sound.unlike("the tries of a block of a plan")
    return value


def _maybe(value: object, what: str) -> str:
    return "" if value == "" else sound.key(value, what)


def _keys(drill: object, step: object) -> tuple[str, str]:
    return sound.key(drill, "a station of a plan"), sound.key(step, "a station of a plan")


def _places(rows, known, stations: int) -> dict:
    return {
        sound.of(known, player, "a player of a plan"): CardPlace(
            sound.whole(station, "a station of a plan", 0, max(stations - 1, 0)),
            sound.flag(locked, "a player of a plan"),
        )
        for player, station, locked in rows
    }


def _look(row: tuple, known, blocks: int) -> CardLook:
    block, player, why = row
    return CardLook(
        sound.whole(block, "whom a plan watches", 0, blocks - 1),
        sound.of(known, player, "whom a plan watches"),
        sound.text(why, "whom a plan watches"),
    )


def _wish(row: tuple, known) -> CardWish:
    kind, player, other, binds, why = row
    what = "a wish of a plan"
    return CardWish(
        sound.word(WishKind, kind, what),
        sound.of(known, player, what),
        sound.of(known, other, what),
        sound.flag(binds, what),
        sound.text(why, what),
    )
