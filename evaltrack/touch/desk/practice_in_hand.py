"""The practice that runs in the season in hand: begun, gone on with, ended; who is here, what is watched."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from uuid import UUID

from kivy.properties import ObjectProperty, StringProperty

from evaltrack.language import tr
from evaltrack.rink.drill import Drill, Step, drill_named
from evaltrack.rink.ident import count_on_from, now_ms
from evaltrack.rink.player import Player, Status, by_number, likely_present
from evaltrack.rink.practice import Attendance, Practice, Station, is_left_open, key_for
from evaltrack.rink.skill import Skill
from evaltrack.store.sound import damaged
from evaltrack.touch.desk.loan_in_hand import LoanInHand


class PracticeInHand(LoanInHand):
    """A practice, who is here, and what this tablet watches.

    ``left_open`` is the practice of an earlier day that nobody has ended, while nobody has said whether it
    goes on. ``practice`` and ``station`` are None then. ``ended`` says what was noted in a practice that has
    just ended, until another one is taken up.
    """

    left_open = ObjectProperty(None, allownone=True)
    ended = StringProperty("")

    def __init__(self, clock: Callable[[], int] = now_ms, **kwargs):
        super().__init__(**kwargs)
        self._clock = clock
        self.attendance: dict[UUID, Attendance] = {}

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
            self.season.practices.end(practice.key, last, self.tablet.id, self.now())

        noted = self.noted(practice)
        if not self.save(write):
            return False
        self.ended = tr("The practice has ended: {noted}, all saved.", noted=noted)
        self.rest()
        self.left_open = self.practice = self.station = None
        return True

    def _put_away(self) -> None:
        super()._put_away()
        self.left_open, self.attendance, self.ended = None, {}, ""

    def _is_left_open(self, practice: Practice) -> bool:
        return is_left_open(self.season.practices.last_moment(practice.key, self.tablet.id), self.now())

    def _take_up_running(self) -> None:
        found = self.season.practices.running_at(self.tablet.id)
        if found:
            self._take_up(*found)

    def _take_up(self, practice: Practice, station: Station) -> None:
        self._read_attendance(practice.key)
        if not self.attendance:  # whoever begins a practice notes who is here, in the same breath
            raise damaged(tr("nobody was here on {day}", day=practice.held_on))
        self._read_tallies(practice)
        self.ended = ""
        self.station = station
        self.practice = practice

    def likely_present(self, on: date | None = None) -> list[Player]:
        """Return the players who are not away on a day, as a first guess at who is here."""
        return likely_present(self.players, on)

    def begin(
        self,
        on: date,
        present: Iterable[Player],
        drill: str,
        step: str,
        observer: str,
        another: bool = False,
        shown: Iterable[UUID] | None = None,
    ) -> bool:
        """Start the practice of a day, or go on with it, with these players here.

        Parameters
        ----------
        another : start one more practice of a day that has one already.
        shown : who stood there as here before anything was changed. Of a practice that goes on only what was
            changed since is noted: another tablet may have noted something meanwhile.
        """
        present = list(present)
        first = (drill_named(self.drills, drill).step(step).skills or tuple(self.skills))[0]

        def write() -> None:
            practices, now = self.season.practices, self.now()
            with self.season.together():
                practice = (None if another else self._to_go_on(on)) or self._new_practice(on)
                station = Station(practice.key, drill, step, first, observer, False, self.tablet.id, now)
                marks = self._places(practice.key, present, shown)
                practices.begin(replace(practice, started_at=now), marks, station)

        if not self.save(write):
            return False
        self.remember(observer=observer)
        return self.told(self.go_on)

    def _to_go_on(self, on: date) -> Practice | None:
        """Return the practice of a day that this tablet was in last, or else the last one of the day."""
        held = {practice.key: practice for practice in self.season.practices.held_on(on)}
        last = self.season.practices.last_at(self.tablet.id)
        return held.get(last) or next(reversed(held.values()), None)

    def _new_practice(self, on: date) -> Practice:
        return Practice(key_for(on, {practice.key for practice in self.season.practices.every()}), on)

    def arrange(self, present: Iterable[Player]) -> bool:
        """Note who is here now. Who was here keeps their place; who comes late gets the next free one."""
        present, key = list(present), self.practice.key
        shown = [ident for ident, mark in self.attendance.items() if mark.here]

        def write() -> None:
            with self.season.together():
                self.season.practices.mark(key, self._places(key, present, shown), self.tablet.id)

        if not self.save(write):
            return False
        if not self.told(lambda: self._read_attendance(key)):
            return False
        self.property("practice").dispatch(self)
        return True

    def _read_attendance(self, key: str) -> None:
        self.attendance = {a.player: a for a in self.season.practices.attendance(key)}

    def _places(self, key: str, present: Iterable[Player], shown: Iterable[UUID] | None) -> list[Attendance]:
        """Return what changes: of who is known only what differs from what was shown, and who comes late."""
        # as the file has them, and not as they were read: others may have noted somebody since
        known = {a.player: a for a in self.season.practices.attendance(key)}
        present, now = list(present), self.now()
        here = {player.id for player in present}
        before = {a.player for a in known.values() if a.here} if shown is None else set(shown)
        changed = [a for a in known.values() if (a.player in here) != (a.player in before)]
        marks = [Attendance(a.player, a.player in here, a.place, now) for a in changed]
        place = 1 + max((a.place for a in known.values()), default=-1)
        late = [p.id for p in sorted(present, key=by_number) if p.id not in known]
        return marks + [Attendance(player, True, place + i, now) for i, player in enumerate(late)]

    def here(self) -> list[Player]:
        """Return who is here now, in order of place on the board."""
        known = sorted(self.attendance.values(), key=lambda a: a.place)
        present = [self.player(a.player) for a in known if a.here]
        return [player for player in present if player.status is not Status.LEFT]

    def known_here(self) -> list[Player]:
        """Return the team, and who had a place in the practice and has left the team since."""
        gone = [self.player(ident) for ident in self.attendance]
        return [*self.players, *(player for player in gone if player.status is Status.LEFT)]

    def end(self) -> bool:
        """End the practice. A copy of the season file alone is whole from then on."""
        noted = self.noted(self.practice)
        key, tablet = self.practice.key, self.tablet.id
        if not self.save(lambda: self.season.practices.end(key, self.now(), tablet)):
            return False
        self.ended = tr("The practice has ended: {noted}, all saved.", noted=noted)
        self.practice = self.station = None
        self.rest()
        return True

    @property
    def drill(self) -> Drill:
        """Return the drill that is watched."""
        return drill_named(self.drills, self.station.drill)

    @property
    def step(self) -> Step:
        """Return the step that is watched."""
        return self.drill.step(self.station.step)

    def limit_of(self, player: Player) -> str:
        """Return in words what a player may not do in this step; nothing for one who may do everything."""
        if player.status is not Status.LIMITED:
            return ""
        return tr("no contact") if self.step.has_contact else tr("limited")

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
        """Go on to the next step of the drill; False behind the last one."""
        after = self.drill.after(self.station.step)
        return after is not None and self.run(self.station.drill, after.key)

    def first_step(self) -> bool:
        """Go back to the first step of the drill."""
        return self.run(self.station.drill, self.drill.steps[0].key)

    def run(self, drill: str, step: str) -> bool:
        """Go on to a step of a drill, and to its first skill unless the present one is in it."""
        skills = drill_named(self.drills, drill).step(step).skills
        keep = self.station.skill in skills or not skills
        return self.watch(drill=drill, step=step, skill=self.station.skill if keep else skills[0])

    def _read_tallies(self, practice: Practice) -> None:
        """Read what was tallied in a practice that is taken up; whoever keeps tallies says how."""

    def noted(self, practice: Practice) -> str:
        """Return in words how much is noted in a practice; whoever keeps tallies says it."""
        return ""

    def now(self) -> int:
        """Return the present moment by this tablet's clock, in milliseconds since 1970 in UTC."""
        return self._clock()
