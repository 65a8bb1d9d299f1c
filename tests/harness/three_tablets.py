"""Three tablets with one season and wrong clocks: what each may do of itself, and what must be true of all.

Each act is one that the app or a command does; packs go into a pool from which anybody may join any of them,
also old ones and twice. `settle` lets everybody join everybody's last pack; then all must be equal.
"""

import random
import shutil
import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path
from types import SimpleNamespace
from uuid import UUID

from lanterns_season import OBSERVERS, PLAYERS, SKILLS, definition
from planned_cards import card

from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables.practices import as_csv, read_held
from evaltrack.rink import ident
from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.ident import new_id
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import (
    Amendment,
    Attendance,
    Correction,
    Practice,
    Rep,
    Station,
    Surface,
    key_for,
)
from evaltrack.rink.rotation.rotation_fact import Change as Turn
from evaltrack.rink.rotation.rotation_fact import RotationFact
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.opening import open_season
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.store.season_file import SeasonFile

DAY = date(2025, 11, 12)
NOON = 1_762_945_200_000
MINUTE, HOUR = 60_000, 3_600_000
WRONG = (0, 0, -7 * MINUTE, 50 * MINUTE, -30 * HOUR, 400 * 24 * HOUR)  # clocks, and how far they are off
_PARTS = (
    ("breakout_attack", "two_on_one"),
    ("breakout_attack", "three_on_one"),
    ("stops_starts", "on_lines"),
)
_OF_ONE = {"epoch", "lost_edit", "_sqlite_migrations", "sqlite_sequence", "sqlite_stat1"}  # not to be shared


@contextmanager
def clock_of(moment: int) -> Iterator[None]:
    """Let this process have a clock that stands."""
    before, ident.time = ident.time, SimpleNamespace(time_ns=lambda: moment * 1_000_000)
    try:
        yield
    finally:
        ident.time = before


class OneTablet:
    """A tablet with its own copy of the season, and a clock that is off."""

    def __init__(self, name: str, path: Path, off: int):
        self.name, self.path, self.off = name, path, off
        self.season: SeasonFile = open_season(path)


class ThreeTablets:
    """The tablets, their packs, and which tallies there are in the whole world."""

    def __init__(
        self, template: Path, folder: Path, chance: random.Random, offs: tuple[int, ...] | None = None
    ):
        self.chance, self.now = chance, NOON
        self.made: set[UUID] = set()
        self.withdrawn: set[UUID] = set()
        self.pool: list[tuple[str, bytes]] = []
        self.met: Counter[str] = (
            Counter()
        )  # what became of it, so that a test can say that it met all of that
        self.tablets = []
        for n, name in enumerate("ABC"):
            path = Path(shutil.copy(template, folder / f"{name}.db"))
            self.tablets.append(OneTablet(name, path, offs[n] if offs else chance.choice(WRONG)))

    def close(self) -> None:
        """Close all files."""
        for tablet in self.tablets:
            tablet.season.close()

    def act(self, which: int, name: str) -> None:
        """Let a tablet do something; a refusal in a sentence is a fair answer."""
        tablet = self.tablets[which]
        self.now += self.chance.choice((1, 1_000, MINUTE, 20 * MINUTE))
        at = self.now + tablet.off
        with clock_of(at):
            getattr(self, name)(tablet, at)

    def _practice(self, tablet: OneTablet) -> Practice | None:
        return self.chance.choice(tablet.season.practices.every() or [None])

    def begin(self, tablet: OneTablet, at: int) -> None:
        """Start a practice as the start screen does: another one of the day, or going on with the last."""
        practices = tablet.season.practices
        day = DAY + timedelta(self.chance.randrange(2))
        held = practices.held_on(day)
        another = not held or self.chance.random() < 0.3
        key = key_for(day, {one.key for one in practices.every()}) if another else held[-1].key
        surface = self.chance.choice(list(Surface))
        here = [p for p in tablet.season.people.players() if self.chance.random() < 0.8]
        known = {one.player for one in practices.attendance(key)}
        end = max((one.place for one in practices.attendance(key)), default=-1) + 1
        marks = [
            Attendance(p.id, True, end + n, at) for n, p in enumerate(p for p in here if p.id not in known)
        ]
        practice = Practice(key, day, surface, at)
        drill, step = _PARTS[0]
        practices.begin(
            practice, marks, Station(key, drill, step, "outlet_pass", OBSERVERS[0], False, tablet.name, at)
        )

    def end(self, tablet: OneTablet, at: int) -> None:
        """End the practice that the tablet is in."""
        if found := tablet.season.practices.running_at(tablet.name):
            tablet.season.practices.end(found[0].key, at, tablet.name)

    def mark(self, tablet: OneTablet, at: int) -> None:
        """Note that somebody goes off, or comes back."""
        if one := self._practice(tablet):
            known = tablet.season.practices.attendance(one.key)
            marks = [replace(mark, here=not mark.here, at=at) for mark in known[:1]]
            tablet.season.practices.mark(one.key, marks, tablet.name)

    def tally(self, tablet: OneTablet, at: int) -> None:
        """Note a few tries in the practice that was begun last here."""
        key = tablet.season.practices.last_at(tablet.name)
        for _ in range(3 if key else 0):
            drill, step = self.chance.choice(_PARTS)
            skill = self.chance.choice(tablet.season.catalogue.skills())
            tally = Tally(
                key, self.chance.choice(tablet.season.people.everyone()).id, skill.key,
                self.chance.choice(list(Outcome)), drill, step, OBSERVERS[0],
                self.chance.choice((None, True, False)), skill.version, None, tablet.name, at,
            )  # fmt: skip
            tablet.season.log.add(tally)
            self.made.add(tally.id)

    def undo(self, tablet: OneTablet, at: int) -> None:
        """Take back a tally, of whichever tablet."""
        tallies = tablet.season.log.tallies()
        if tallies:
            gone = self.chance.choice(tallies).id
            tablet.season.log.withdraw(Withdrawal(gone, tablet.name, at))
            self.withdrawn.add(gone)

    def rep(self, tablet: OneTablet, at: int) -> None:
        """Begin a rep of a rotation, and put right who stood in a slot of it."""
        key = tablet.season.practices.last_at(tablet.name)
        if key is None:
            return
        team = [player.id for player in PLAYERS[:3]]
        slots = dict(zip(("breakout_d", "line_d", "wall_f"), team, strict=True))
        rep = Rep(key, *_PARTS[0], slots, tablet.name, at, new_id())
        start = tuple((player.id, player.position) for player in PLAYERS)
        first = RotationFact(key, tablet.name, *_PARTS[0], Turn.FIRST, rep.id, start=start, at=at)
        tablet.season.reps.begin(rep, first)
        leave = RotationFact(key, tablet.name, *_PARTS[0], Turn.LEAVE, rep.id, player=team[0], at=at)
        tablet.season.reps.correct(leave, stood={"breakout_d": None})

    def correct(self, tablet: OneTablet, at: int) -> None:
        """Put tallies right: whose they are, what came of them, of which skill, whether they count."""
        practice = self._practice(tablet)
        stands = practice and tablet.season.log.stands(practice.key)
        if not stands:
            return
        skill = self.chance.choice(tablet.season.catalogue.skills())
        held = tablet.season.practices.held_on(practice.held_on) or [practice]
        change, value = self.chance.choice(
            [
                (Change.PLAYER, self.chance.choice(tablet.season.people.everyone()).id),
                (Change.OUTCOME, self.chance.choice(list(Outcome))),
                (Change.SKILL, (skill.key, skill.version)),
                (Change.ASIDE, self.chance.random() < 0.5),
                (Change.PRACTICE, self.chance.choice(held).key),
            ]
        )
        chosen = self.chance.sample(stands, min(4, len(stands)))
        if made := correction_of(chosen, change, value, practice.key, tablet.name):
            tablet.season.tally_corrections.add(replace(made, at=at))

    def take_back(self, tablet: OneTablet, at: int) -> None:
        """Take a correction back, or let it count again."""
        if made := tablet.season.tally_corrections.all():
            one = self.chance.choice(made)
            tablet.season.tally_corrections.put_in_force(one, not one.in_force, tablet.name, at)

    def amend(self, tablet: OneTablet, at: int) -> None:
        """Set a practice aside, bring it back, or say that it was held another day."""
        if one := self._practice(tablet):
            change = self.chance.choice(list(Amendment))
            day = one.held_on + timedelta(1) if change is Amendment.TO_DATE else one.held_on
            tablet.season.corrections.add(Correction(one.key, change, one.held_on, day, tablet.name, at))

    def comment(self, tablet: OneTablet, at: int) -> None:
        """Write what was remarkable of a practice."""
        if one := self._practice(tablet):
            tablet.season.comments.write(one.key, f"Soft ice, {self.chance.random():.6f}.", tablet.name, at)

    def plan(self, tablet: OneTablet, at: int) -> None:
        """Keep a plan."""
        tablet.season.plans.add(replace(card(DAY), coaches=self.chance.randrange(4)), tablet.name, at)

    def calendar(self, tablet: OneTablet, at: int) -> None:
        """Note an ice time, or change or drop the one that is there."""
        uid = self.chance.choice(("ice-1", "ice-2"))
        entry = IceTime(DAY + timedelta(self.chance.randrange(9)), time(18, 30), uid=uid)
        tablet.season.calendar.note([entry], tablet.name, at)
        if self.chance.random() < 0.3:
            tablet.season.calendar.drop(entry, tablet.name, at)

    def roster(self, tablet: OneTablet, at: int) -> None:
        """Change a number, a name, a position or a status, or let somebody join."""
        people = tablet.season.people
        one = self.chance.choice(people.everyone())
        wanted = self.chance.choice(
            [
                replace(one, number=str(self.chance.randrange(8, 14))),
                replace(one, name=f"Oda {self.chance.random():.4f}"),
                replace(one, position=self.chance.choice(list(Position)), also=None),
                replace(one, status=self.chance.choice(list(Status))),
                Player(str(self.chance.randrange(8, 14)), "Wren Alder", Position.FORWARD, id=new_id()),
            ]
        )
        with refusals():
            people.change([wanted], DAY, tablet.name)

    def catalogue(self, tablet: OneTablet, at: int) -> None:
        """Change a target, a definition or its words, a drill; take a skill out or bring one in."""
        table = tablet.season.catalogue
        skills, drills = table.skills(), table.drills()
        n = self.chance.randrange(len(skills))
        new = replace(skills[n], definition=definition(f"Done {self.chance.random():.4f}."))
        step = replace(drills[0].steps[0], name=f"2 v 1, {self.chance.random():.3f}")
        made, same = self.chance.choice(
            [
                ([replace(skills[n], target=self.chance.choice((0.3, 0.5, 0.7)))], ()),
                ([new], ()),
                ([new], (new.key,)),
                ([replace(SKILLS[0], key="stop", name="Stop", version=1)], ()),
                ([], ()),
            ]
        )
        keys = {one.key for one in made}
        rest = [one for one in skills if one.key not in keys]
        if self.chance.random() < 0.3:
            rest = rest[::-1]
        turned = [replace(drills[0], steps=(step, *drills[0].steps[1:])), *drills[1:]]
        with refusals():
            changes = tablet.season.catalogue_changes
            changes.set_to([*made, *rest], turned if self.chance.random() < 0.3 else None, same, tablet.name)

    def pack(self, tablet: OneTablet, at: int) -> None:
        """Write a pack into the pool: of all, or since an earlier one of this tablet."""
        mine = [content for name, content in self.pool if name == tablet.name]
        since = (
            read_pack("earlier", self.chance.choice(mine)) if mine and self.chance.random() < 0.3 else None
        )
        self.pool.append((tablet.name, tablet.season.packs.pack(tablet.name, since, at)))

    def join(self, tablet: OneTablet, at: int) -> None:
        """Join some packs of the pool, whichever they are."""
        chosen = self.chance.sample(self.pool, min(2, len(self.pool)))
        with refusals("join that one first"):
            packs = [(name, read_pack(name, content)) for name, content in chosen]
            self._note(tablet.season.packs.join(packs, now=at))

    def _note(self, joined: Joined) -> None:
        self.met += {
            "joins": 1,
            "facts": joined.new.total(),
            "keys changed": len(joined.renamed),
            "numbers doubled": len(joined.doubled),
            "changes lost": len(joined.lost),
            "clocks ahead": len(joined.ahead),
            "one key, two facts": joined.clashes.total(),
        }

    def settle(self) -> None:
        """Let everybody join what everybody has, in any order."""
        packs = [(one.name, one.season.packs.pack(one.name, at=self.now)) for one in self.tablets]
        for tablet in self.tablets:
            order = self.chance.sample(packs, len(packs))
            whole = [(name, read_pack(name, content)) for name, content in order]
            self._note(tablet.season.packs.join(whole, now=self.now))
        definitions = "SELECT count(*) FROM definition WHERE version > 2"
        self.met["third definitions"] += self.tablets[0].season._connection.execute(definitions).fetchone()[0]

    def last_say(self) -> tuple:
        """Let one tablet that has seen all change a bit of everything, by the slowest of clocks."""
        tablet, at = self.tablets[0], NOON - 1000 * HOUR
        season, days = tablet.season, (DAY, DAY + timedelta(100))
        with clock_of(at):
            players = [
                replace(p, name=f"Wren {n}", number=str(40 + n))
                for n, p in enumerate(season.people.everyone())
            ]
            season.people.change(players, DAY, tablet.name)
            skills = [
                replace(one, target=0.55, definition=definition(f"The last word on {one.key}."))
                for one in reversed(season.catalogue.skills())
            ]
            season.catalogue_changes.set_to(skills, None, (), tablet.name)
            for one in season.practices.every():
                season.comments.write(one.key, "The last word.", tablet.name, at)
                for day in days:
                    made = Correction(one.key, Amendment.TO_DATE, one.held_on, day, tablet.name, at)
                    season.corrections.add(made)
            season.plans.add(replace(card(DAY), coaches=77), tablet.name, at)
            season.calendar.note([IceTime(DAY, time(6, 0), 44, uid="ice-1")], tablet.name, at)
            for one in season.tally_corrections.all():
                season.tally_corrections.put_in_force(one, False, tablet.name, at)
        return self.in_force(1)[0]

    def in_force(self, count: int = 3) -> list[tuple]:
        """Return what counts of all that `last_say` changes, on so many tablets; the wishes show in it."""
        found = []
        for season in (tablet.season for tablet in self.tablets[:count]):
            skills, calendar = season.catalogue.skills(), season.calendar.all()
            players = season.people.everyone()
            assert all(skill.target == 0.55 and "last word" in skill.definition.done for skill in skills)
            assert all(player.name.startswith("Wren ") for player in players)
            assert set(season.comments.all().values()) == {"The last word."}
            assert not any(one.in_force for one in season.tally_corrections.all())
            assert (season.plans.last().coaches, calendar[0].minutes) == (77, 44)
            assert {one.held_on for one in season.practices.every()} == {DAY + timedelta(100)}
            found.append(
                (players, [player.id for player in players], skills, calendar, season.practices.every())
            )
        return found

    def dumps(self) -> list[dict[str, list]]:
        """Return all that is shared, table by table, of each tablet."""
        return [shared(one.season._connection) for one in self.tablets]

    def practices(self) -> list[str]:
        """Return the practices of each tablet, as the command prints them."""
        return [as_csv(read_held(one.season)) for one in self.tablets]


def shared(connection: sqlite3.Connection) -> dict[str, list]:
    """Return every row of the tables that tablets share."""
    tables = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
    return {
        table: sorted(connection.execute(f"SELECT * FROM {table}"), key=repr)
        for (table,) in tables
        if table not in _OF_ONE
    }


@contextmanager
def refusals(*words: str) -> Iterator[None]:
    try:
        yield
    except EvaltrackError as error:
        if words and not any(word in str(error) for word in words):
            raise


ACTS = (
    "begin", "begin", "end", "mark", "tally", "tally", "tally", "undo", "rep", "correct", "correct",
    "take_back", "amend", "comment", "plan", "calendar", "roster", "roster", "catalogue", "catalogue", "pack",
    "pack", "join", "join",
)  # fmt: skip
