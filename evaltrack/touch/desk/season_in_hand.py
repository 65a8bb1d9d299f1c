"""The season file that the app holds: opened, written to, and taken up again when it comes back."""

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple
from uuid import UUID

from kivy.event import EventDispatcher
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty

from evaltrack.device.season_claim import SeasonClaim
from evaltrack.device.tablet import Tablet, keep_tablet, load_tablet, with_id_on_disk
from evaltrack.errors import EvaltrackError, SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.loan import Loan
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.player import Player, Status
from evaltrack.rink.skill import Skill
from evaltrack.store.connection import BENCH_WAIT
from evaltrack.store.opening import open_season, reopen
from evaltrack.store.season_file import SeasonFile
from evaltrack.store.sound import damaged


class _Known(NamedTuple):
    """Whom and what a season file knows: all of it is read, or nothing is taken up."""

    everyone: tuple[Player, ...] = ()
    skills: Mapping[str, Skill] = MappingProxyType({})
    drills: tuple[Drill, ...] = ()
    every_drill: tuple[Drill, ...] = ()
    invented: bool = False
    loan: Loan | None = None

    @classmethod
    def read(cls, season: SeasonFile) -> "_Known":
        skills = {skill.key: skill for skill in season.catalogue.skills()}
        drills = tuple(tuple(season.catalogue.drills(retired=more)) for more in (False, True))
        known = cls(tuple(season.people.everyone()), skills, *drills, season.invented, season.loan)
        if not (known.skills and known.drills):  # a season begins with some, and none is ever taken out
            raise damaged(tr("it has no skills, or no drills"))
        return known


_TOGETHER = 250  # writes, some four megabytes of journal
NOT_WHOLE = mark(
    "all is saved, but the season file alone is not whole yet: copy it only when this has "
    "gone, or together with what lies beside it"
)


class SeasonInHand(EventDispatcher):
    """A season file, this tablet's settings, and what becomes of a write.

    ``practice`` and ``station`` are None when none runs. ``message`` is a sentence for the user, empty
    when there is nothing to say. ``refused`` is a season file that could not be opened. ``changed`` counts
    the writes, so that a screen knows when it is stale. ``invented`` says that the season is that of the
    invented team.
    """

    season = ObjectProperty(None, allownone=True)
    practice = ObjectProperty(None, allownone=True)
    station = ObjectProperty(None, allownone=True)
    message = StringProperty("")
    changed = NumericProperty(0)
    invented = BooleanProperty(False)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._tablet = load_tablet()
        self._learn(_Known())
        self.refused: Path | None = None
        self._claim = SeasonClaim()

    @property
    def tablet(self) -> Tablet:
        """Return the settings of this tablet."""
        return self._tablet

    def update_tablet(self, update: Callable[[Tablet], Tablet]) -> None:
        """Take up the settings that ``update`` makes of those at hand; it also writes what is to be kept."""
        self._tablet = update(self._tablet)

    def keep(self, **settings) -> None:
        """Write settings of this tablet, those that are as before too, and take them up."""
        self.update_tablet(lambda tablet: keep_tablet(tablet, **settings))

    def open(self, path: Path) -> bool:
        """Open a season file and go on with the practice that runs in it, if any.

        A file that is refused, or damaged in what is read here, leaves the season before in hand, or none.
        """
        try:
            self._take_up_season(*self._opened(path))
        except EvaltrackError as error:
            from evaltrack.device.recent_seasons import gone_words

            self.message, self.refused = one_line(gone_words(path) or str(error)), Path(path)
            return False
        self.refused, self.message = None, ""
        self._note_opened(Path(path).resolve())
        return True

    def _note_opened(self, path: Path) -> None:
        if self.tablet.season != str(path):  # else it is noted, and a start writes nothing
            from evaltrack.device.recent_seasons import note_season

            self.told(lambda: note_season(path, self.team_words()))
            self.keep(season=str(path))

    def team_words(self) -> str:
        """Return whose season is in hand, and whether it is invented."""
        return tr("{team}, invented", team=self.season.team) if self.invented else str(self.season.team)

    def _opened(self, path: Path) -> tuple[SeasonFile, "_Known"]:
        season = open_season(path, BENCH_WAIT)
        try:
            known = _Known.read(season)
            if not self._claim.take(path):
                raise SeasonFileError(
                    tr(
                        "{name} is open in another window of this tablet: go on there, or close that window",
                        name=Path(path).name,
                    )
                )
        except BaseException:
            season.close()
            raise
        return season, known

    def _take_up_season(self, season: SeasonFile, known: "_Known") -> None:
        if self.refused:  # the window that had the file may have changed the settings since
            self.update_tablet(lambda _: load_tablet())
        self.update_tablet(with_id_on_disk)
        self._put_away()
        self._learn(known)
        self.season = season
        try:
            self.resume()
        except EvaltrackError:
            self.close()
            raise

    def _learn(self, known: "_Known") -> None:
        self._learn_players(known.everyone)
        self.skills, self.drills = known.skills, known.drills
        self.every_drill = known.every_drill  # what was done once may name one that is not in use any more
        self.invented = known.invented

    def _learn_again(self) -> None:
        self._learn(_Known.read(self.season))

    def _learn_players(self, everyone: tuple[Player, ...]) -> None:
        self.everyone = everyone
        self.players = tuple(player for player in everyone if player.status is not Status.LEFT)
        self._by_id = {player.id: player for player in everyone}

    def in_place(self) -> bool:
        """Say whether the season file can be written to; one that has come back is opened again.

        Whoever works out a write from what is shown asks before: what is shown may be another thing after it.
        """
        if self.season.may_return:
            try:
                self._take_back()
            except EvaltrackError as error:
                self.message = tr("not saved: {reason}", reason=error)
                return False
        return True

    def _take_back(self) -> None:
        reopen(self.season, BENCH_WAIT)
        before = self.practice, self.station
        try:
            if self.practice and not self._knows(self.practice.key):
                raise SeasonFileError(tr("the season file that came back knows nothing of this practice"))
            self._learn_again()
            self.practice = self.station = (
                None  # so that the screens follow, even when they come back the same
            )
            self.go_on()
        except EvaltrackError:
            self.season.close()  # nothing must be written into a file of another time, or a damaged one
            self.practice, self.station = before
            raise

    def _knows(self, key: str) -> bool:
        found = self.season.practices.running_at(self.tablet.id)
        return bool(found and found[0].key == key)

    def remember(self, **settings) -> None:
        """Keep settings of this tablet where they have changed."""
        # a write waits for the disk, so none is made at a start that changes nothing
        if any(getattr(self.tablet, name) != value for name, value in settings.items()):
            self.keep(**settings)

    def rest(self, patient: bool = True) -> bool:
        """Write the journal back into the season file, so that a copy of the file alone is whole.

        False when something still has to wait, because another program reads just now or the disk is full:
        try again a little later. Whoever waits for it (``patient``) is told then, until it is done.
        """
        try:
            season = self.season
            done = season is None or not season.waiting or season.write_back(wait=patient)
        except EvaltrackError:
            done = False
        if not done and patient:
            self.message = tr(NOT_WHOLE)
        elif done and self.message == tr(NOT_WHOLE):
            self.message = ""
        return done

    def close(self) -> None:
        """Close the season file; nothing waits to be saved."""
        self._put_away()
        self._claim.leave()

    def _put_away(self) -> None:
        if self.season:
            self.season.write_back(empty=True)
            self.season.close()
        self.season = self.practice = self.station = None
        self._learn(_Known())

    def resume(self) -> None:
        """Go on with the practice that runs in the file, if any; whoever keeps practices says how."""

    def go_on(self) -> None:
        """Go on with the practice that runs in the file, without asking whether it goes on."""

    def player(self, ident: UUID) -> Player:
        """Return the player with this id."""
        return self._by_id[ident]

    def told(self, read: Callable[[], None]) -> bool:
        """Do a read. When it fails, ``message`` says why."""
        try:
            read()
        except EvaltrackError as error:
            self.message = str(error)
            return False
        return True

    def save(self, write: Callable[[], None], lost: str = "") -> bool:
        """Do a write. When it fails, ``message`` says so, and what is ``lost`` by it."""
        if not self.in_place():
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
        if self.changed % _TOGETHER == 0:  # or the journal grows, and each tap waits longer for the disk
            self.rest(patient=False)
        return True
