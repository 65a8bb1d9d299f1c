"""The one object that screens talk to. It has no widgets and needs no window."""

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path
from uuid import UUID

from kivy.event import EventDispatcher
from kivy.properties import NumericProperty, ObjectProperty, StringProperty

from evaltrack.errors import EvaltrackError, SeasonFileError
from evaltrack.rink.drill import Drill, Step, drill_named
from evaltrack.rink.ident import now_ms
from evaltrack.rink.player import Player, likely_present
from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.store.connection import BENCH_WAIT
from evaltrack.store.opening import open_season, reopen
from evaltrack.store.season_file import SeasonFile
from evaltrack.store.tablet import keep_tablet, load_tablet


class Desk(EventDispatcher):
    """The season in hand and the practice that runs.

    ``practice`` and ``station`` are None when none runs. ``message`` is a sentence for the user, empty
    when there is nothing to say. ``changed`` counts the writes, so that a screen knows when it is stale.
    Writes return what they wrote, or None after a failure, which ``message`` then tells. ``on_tallied`` comes
    after each tally that is on disk.
    """

    __events__ = ("on_tallied",)
    season = ObjectProperty(None, allownone=True)
    practice = ObjectProperty(None, allownone=True)
    station = ObjectProperty(None, allownone=True)
    message = StringProperty("")
    changed = NumericProperty(0)

    def __init__(self, clock: Callable[[], int] = now_ms, **kwargs):
        super().__init__(**kwargs)
        self._clock = clock
        self.tablet = load_tablet()
        self.players: tuple[Player, ...] = ()
        self.skills: dict[str, Skill] = {}
        self.drills: tuple[Drill, ...] = ()
        self.attendance: dict[UUID, Attendance] = {}
        self._counts: Counter[tuple[UUID, str, Outcome]] = Counter()
        self._mine: list[Tally] = []

    # the season file

    def open(self, path: Path) -> bool:
        """Open a season file and go on with the practice that runs in it, if any."""
        try:
            season = open_season(path, BENCH_WAIT)
        except EvaltrackError as error:
            self.message = str(error)
            return False
        self.close()
        self._read(season)
        self.season = season
        self.message = ""
        self._remember(season=str(Path(path).resolve()))
        self._resume()
        return True

    def _read(self, season: SeasonFile) -> None:
        self.players = tuple(season.people.players())
        self.skills = {skill.key: skill for skill in season.catalogue.skills()}
        self.drills = tuple(season.catalogue.drills())

    def _in_place(self) -> bool:
        """Say whether the season file can be written to; one that has come back is opened anew."""
        if self.season.may_return:
            try:
                self._take_back()
            except EvaltrackError as error:
                self.message = f"not saved: {error}"
                return False
        return True

    def _take_back(self) -> None:
        practice, station = self.practice, self.station
        reopen(self.season, BENCH_WAIT)
        self._read(self.season)
        self.practice = self.station = None  # so that the screens follow, even when they come back the same
        self._resume()
        if practice and not self.practice:
            self.station, self.practice = station, practice
            raise SeasonFileError("the season file that came back knows nothing of this practice")

    def _remember(self, **settings) -> None:
        # a write waits for the disk, so none is made at a start that changes nothing
        if any(getattr(self.tablet, name) != value for name, value in settings.items()):
            self.tablet = keep_tablet(self.tablet, **settings)

    def close(self) -> None:
        """Close the season file; nothing waits to be saved."""
        if self.season:
            self.season.close()
        self.season = self.practice = self.station = None

    def _resume(self) -> None:
        practice = self.season.practices.running()
        station = practice and self.season.practices.station(practice.key, self.tablet.id)
        if station:
            self._take_up(practice, station)

    def _take_up(self, practice: Practice, station: Station) -> None:
        self.attendance = {a.player: a for a in self.season.practices.attendance(practice.key)}
        tallies = self.season.log.tallies(practice=practice.key)
        self._counts = Counter((t.player, t.skill, t.outcome) for t in tallies)
        self._mine = [t for t in tallies if t.tablet == self.tablet.id]
        self.station = station
        self.practice = practice

    # the practice

    def likely_present(self) -> list[Player]:
        """Return the players who are not away, as a first guess at who is here."""
        return likely_present(self.players)

    def begin(self, on: date, present: Iterable[Player], drill: str, step: str, observer: str) -> bool:
        """Start the practice of a day, or go on with it, with these players here."""
        now = self._clock()
        practice = Practice(on.isoformat(), on, started_at=now)
        first = (drill_named(self.drills, drill).step(step).skills or tuple(self.skills))[0]
        station = Station(practice.key, drill, step, first, observer, False, self.tablet.id, now)
        known = {a.player: a for a in self.season.practices.attendance(practice.key)}
        if not self._save(
            lambda: self.season.practices.begin(practice, self._places(known, present), station)
        ):
            return False
        self._remember(observer=observer)
        self._resume()
        return True

    def arrange(self, present: Iterable[Player]) -> bool:
        """Note who is here now. Who was here keeps his place; who comes late gets the next free one."""
        marks = self._places(self.attendance, present)
        if not self._save(lambda: self.season.practices.mark(self.practice.key, marks)):
            return False
        self.attendance |= {a.player: a for a in marks}
        self.property("practice").dispatch(self)
        return True

    def _places(self, known: dict[UUID, Attendance], present: Iterable[Player]) -> list[Attendance]:
        here = {player.id for player in present}
        now = self._clock()
        marks = [Attendance(a.player, a.player in here, a.place, now) for a in known.values()]
        place = 1 + max((a.place for a in known.values()), default=-1)
        late = [p.id for p in self.players if p.id in here and p.id not in known]
        return marks + [Attendance(player, True, place + i, now) for i, player in enumerate(late)]

    def end(self) -> bool:
        """End the practice."""
        if not self._save(lambda: self.season.practices.end(self.practice.key, self._clock())):
            return False
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
        station = Station(old.practice, tablet=self.tablet.id, at=self._clock(), **wanted)
        if not self._save(lambda: self.season.practices.watch(station)):
            return False
        self.station = station
        return True

    def next_step(self) -> bool:
        """Go on to the next step of the drill, and to its first skill unless the present one is in it."""
        step = self.drill.after(self.station.step)
        keep = self.station.skill in step.skills or not step.skills
        return self.watch(step=step.key, skill=self.station.skill if keep else step.skills[0])

    # tallies

    def tally(self, player: UUID, outcome: Outcome) -> Tally | None:
        """Commit one tally of the skill that is watched, and only then count it."""
        at = self.station
        tally = Tally(
            practice=at.practice,
            player=player,
            skill=at.skill,
            outcome=outcome,
            drill=at.drill,
            step=at.step,
            observer=at.observer,
            pressure=at.pressure,
            skill_version=self.skills[at.skill].version,
            tablet=self.tablet.id,
            at=self._clock(),
        )
        if not self._save(lambda: self.season.log.add(tally), "; this tap does not count"):
            return None
        self._mine.append(tally)
        self._counts[player, tally.skill, outcome] += 1
        self.dispatch("on_tallied")
        return tally

    def on_tallied(self) -> None:
        """Do nothing: who wants to answer a tally listens."""

    def undo(self) -> Tally | None:
        """Withdraw this tablet's last tally of the practice and return it."""
        if not (self._mine and self._in_place()):
            return None
        tally = self._mine[-1]
        fact = Withdrawal(tally.id, self.tablet.id, self._clock())
        if not self._save(lambda: self.season.log.withdraw(fact)):
            return None
        self._mine.pop()
        self._counts[tally.player, tally.skill, tally.outcome] -= 1
        return tally

    def last(self, count: int) -> list[Tally]:
        """Return this tablet's last tallies of the practice, the newest first."""
        return self._mine[: -count - 1 : -1]

    @property
    def total(self) -> int:
        """Return how many tallies this tablet made in the practice."""
        return len(self._mine)

    def count(self, player: UUID, outcome: Outcome) -> int:
        """Return the player's tallies of this outcome in the skill that is watched, this practice."""
        return self._counts[player, self.station.skill, outcome]

    def player(self, ident: UUID) -> Player:
        """Return the player with this id."""
        return next(p for p in self.players if p.id == ident)

    def _save(self, write: Callable[[], None], lost: str = "") -> bool:
        if not self._in_place():
            self.message += lost
            return False
        try:
            write()
        except EvaltrackError as error:
            self.message = f"{error}{lost}"
            return False
        if self.message:
            self.message = ""
        self.changed += 1
        return True
