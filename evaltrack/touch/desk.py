"""The one object that screens talk to. It has no widgets and needs no window."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from uuid import UUID

from kivy.properties import ObjectProperty

from evaltrack.rink.drill import Drill, Step, drill_named
from evaltrack.rink.ident import count_on_from, new_id, now_ms
from evaltrack.rink.player import Player, likely_present
from evaltrack.rink.practice import Attendance, Practice, Rep, Station, is_left_open, key_for
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.store.sound import damaged
from evaltrack.touch.season_in_hand import SeasonInHand
from evaltrack.touch.tally_book import TallyBook


class Desk(SeasonInHand):
    """The season in hand, the practice that runs, and the tallies that are made in it.

    Writes return what they wrote, or None after a failure, which ``message`` then tells. ``on_tallied`` comes
    after each tally that is on disk. ``left_open`` is the practice of an earlier day that nobody has ended,
    while nobody has said whether it goes on.
    """

    __events__ = ("on_tallied",)
    left_open = ObjectProperty(None, allownone=True)

    def __init__(self, clock: Callable[[], int] = now_ms, **kwargs):
        super().__init__(**kwargs)
        self._clock = clock
        self.attendance: dict[UUID, Attendance] = {}
        self._book = TallyBook()

    # the practice

    def resume(self) -> None:
        """Go on with the practice that this tablet is in; one that was left open waits for `go_on`."""
        count_on_from(self.season.log.newest(self.tablet.id))
        found = self.season.practices.running_at(self.tablet.id)
        self.left_open = found[0] if found and self._is_left_open(found[0]) else None
        if not self.left_open:
            self._take_up_running()

    def go_on(self) -> None:
        """Go on with the practice that was left open."""
        self.left_open = None
        self._take_up_running()

    def leave_open(self) -> None:
        """Put the practice away until somebody says whether it goes on: it seems to have ended unnoticed."""
        practice = self.practice
        self.practice = self.station = None
        self.left_open = practice

    def end_left_open(self) -> bool:
        """End the practice that was left open, as of its last fact."""
        practice = self.left_open

        def write() -> None:
            last = self.season.practices.last_moment(practice.key, self.tablet.id)
            self.season.practices.end(practice.key, last)

        if not self.save(write):
            return False
        self.rest()
        self.left_open = self.practice = self.station = None
        return True

    def _put_away(self) -> None:
        super()._put_away()
        self.left_open, self.attendance, self._book = None, {}, TallyBook()

    def _is_left_open(self, practice: Practice) -> bool:
        last = self.season.practices.last_moment(practice.key, self.tablet.id)  # it has watched something
        return is_left_open(last, self.now())

    def _take_up_running(self) -> None:
        found = self.season.practices.running_at(self.tablet.id)
        if found:
            self._take_up(*found)

    def _take_up(self, practice: Practice, station: Station) -> None:
        self._read_attendance(practice.key)
        if not self.attendance:  # whoever begins a practice notes who is here, in the same breath
            raise damaged(f"nobody was here on {practice.held_on}")
        self._book = TallyBook(self.season.log.tallies(practice=practice.key), self.tablet.id)
        self.station = station
        self.practice = practice

    def likely_present(self) -> list[Player]:
        """Return the players who are not away, as a first guess at who is here."""
        return likely_present(self.players)

    def begin(
        self,
        on: date,
        present: Iterable[Player],
        drill: str,
        step: str,
        observer: str,
        another: bool = False,
    ) -> bool:
        """Start the practice of a day, or go on with it, with these players here.

        ``another`` starts one more practice of a day that has one already.
        """
        present = list(present)
        first = (drill_named(self.drills, drill).step(step).skills or tuple(self.skills))[0]

        def write() -> None:
            practices, now = self.season.practices, self.now()
            with self.season.together():
                known = [] if another else practices.held_on(on)
                practice = known[-1] if known else self._new_practice(on)
                station = Station(practice.key, drill, step, first, observer, False, self.tablet.id, now)
                marks = self._places(practice.key, present)
                practices.begin(replace(practice, started_at=now), marks, station)

        if not self.save(write):
            return False
        self.remember(observer=observer)
        return self.told(self.go_on)

    def _new_practice(self, on: date) -> Practice:
        return Practice(key_for(on, {practice.key for practice in self.season.practices.every()}), on)

    def arrange(self, present: Iterable[Player]) -> bool:
        """Note who is here now. Who was here keeps his place; who comes late gets the next free one."""
        present, key = list(present), self.practice.key

        def write() -> None:
            with self.season.together():
                self.season.practices.mark(key, self._places(key, present))

        if not self.save(write):
            return False
        if not self.told(lambda: self._read_attendance(key)):
            return False
        self.property("practice").dispatch(self)
        return True

    def _read_attendance(self, key: str) -> None:
        self.attendance = {a.player: a for a in self.season.practices.attendance(key)}

    def _places(self, key: str, present: Iterable[Player]) -> list[Attendance]:
        # as the file has them, and not as they were read: others may have noted somebody since
        known = {a.player: a for a in self.season.practices.attendance(key)}
        here = {player.id for player in present}
        now = self.now()
        marks = [Attendance(a.player, a.player in here, a.place, now) for a in known.values()]
        place = 1 + max((a.place for a in known.values()), default=-1)
        late = [p.id for p in self.players if p.id in here and p.id not in known]
        return marks + [Attendance(player, True, place + i, now) for i, player in enumerate(late)]

    def here(self) -> list[Player]:
        """Return who is here now, in order of place on the board."""
        known = sorted(self.attendance.values(), key=lambda a: a.place)
        return [self.player(a.player) for a in known if a.here]

    def end(self) -> bool:
        """End the practice. A copy of the season file alone is whole from then on."""
        if not self.save(lambda: self.season.practices.end(self.practice.key, self.now())):
            return False
        self.rest()
        self.practice = self.station = None
        return True

    @property
    def drill(self) -> Drill:
        """Return the drill that is watched."""
        return drill_named(self.drills, self.station.drill)

    @property
    def step(self) -> Step:
        """Return the step that is watched."""
        return self.drill.step(self.station.step)

    def watched_skills(self) -> list[Skill]:
        """Return the skills worth watching in this step, then all others."""
        first = [self.skills[key] for key in self.step.skills]
        return first + [skill for skill in self.skills.values() if skill.key not in self.step.skills]

    def watch(self, **changes) -> bool:
        """Change what is watched from now on: skill, pressure, step, drill or observer."""
        old = self.station
        wanted = {name: getattr(old, name) for name in ("drill", "step", "skill", "observer", "pressure")}
        wanted |= changes
        station = Station(old.practice, tablet=self.tablet.id, at=self.now(), **wanted)
        if not self.save(lambda: self.season.practices.watch(station)):
            return False
        self.station = station
        return True

    def next_step(self) -> bool:
        """Go on to the next step of the drill."""
        return self.run(self.station.drill, self.drill.after(self.station.step).key)

    def run(self, drill: str, step: str) -> bool:
        """Go on to a step of a drill, and to its first skill unless the present one is in it."""
        skills = drill_named(self.drills, drill).step(step).skills
        keep = self.station.skill in skills or not skills
        return self.watch(drill=drill, step=step, skill=self.station.skill if keep else skills[0])

    # tallies

    def tally(
        self,
        player: UUID,
        outcome: Outcome,
        skill: str | None = None,
        rep: Rep | None = None,
        moment: int | None = None,
        slot: str | None = None,
        along: Callable[[], None] | None = None,
    ) -> Tally | None:
        """Commit one tally and only then count it; of the skill that is watched, and now, unless told.

        ``along`` is a write that goes to disk before it, both or neither of them.
        """
        at = self.station
        skill = skill or at.skill
        tally = Tally(
            practice=at.practice,
            player=player,
            skill=skill,
            outcome=outcome,
            drill=at.drill,
            step=at.step,
            observer=at.observer,
            pressure=at.pressure,
            skill_version=self.skills[skill].version,
            rep=rep and rep.id,
            tablet=self.tablet.id,
            at=self.now() if moment is None else moment,
            slot=slot,
        )
        write = (lambda: self._add(tally, along)) if along else lambda: self.season.log.add(tally)
        if not self.save(write, "; this tap does not count"):
            return None
        self._book.add(tally)
        self.dispatch("on_tallied")
        return tally

    def _add(self, tally: Tally, along: Callable[[], None]) -> None:
        with self.season.together():
            along()
            self.season.log.add(tally)

    def on_tallied(self) -> None:
        """Do nothing: who wants to answer a tally listens."""

    def undo(self) -> Tally | None:
        """Withdraw this tablet's last tally of the practice and return it."""
        if not (self.total and self.in_place()):
            return None
        (tally,) = self.last(1)
        fact = Withdrawal(tally.id, self.tablet.id, self.now())
        if not self.save(lambda: self.season.log.withdraw(fact)):
            return None
        self._book.take_back()
        return tally

    def last(self, count: int) -> list[Tally]:
        """Return this tablet's last tallies of the practice, the newest first."""
        return self._book.last(count)

    def tallies_of(self, rep: Rep) -> list[Tally]:
        """Return this tablet's tallies of a rep, in order."""
        return self._book.of(rep.id)

    def give(
        self, owners: Iterable[tuple[Tally, UUID]], along: Callable[[list[tuple[UUID, UUID]]], None]
    ) -> bool:
        """Correct whose tallies are: withdraw each, and note the same try of the player whose it was.

        ``along`` is a write that goes to disk with them, or not at all. It is given the ids of each tally
        that is withdrawn, and of the one that stands for it.
        """
        # an id beside the other, so that the tallies stay in the order in which they were made
        pairs = [(tally, replace(tally, player=player, id=new_id(tally.id))) for tally, player in owners]

        def write() -> None:
            with self.season.together():
                along([(tally.id, other.id) for tally, other in pairs])
                for tally, other in pairs:
                    self.season.log.withdraw(Withdrawal(tally.id, self.tablet.id, self.now()))
                    self.season.log.add(other)

        saved = self.save(write)
        for tally, other in pairs if saved else ():
            self._book.give(tally, other)
        return saved

    @property
    def total(self) -> int:
        """Return how many tallies this tablet made in the practice."""
        return self._book.total

    @property
    def others(self) -> int:
        """Return how many tallies other tablets had made in the practice when it was taken up here."""
        return self._book.others

    def count(self, player: UUID, outcome: Outcome, skill: str | None = None) -> int:
        """Return a player's tallies of an outcome today, in the skill that is watched or another."""
        return self._book.count(player, skill or self.station.skill, outcome)

    def now(self) -> int:
        """Return the present moment by this tablet's clock, in milliseconds since 1970 in UTC."""
        return self._clock()
