"""The app's screens for which season: how one leads to another, and what becomes of the one in hand."""

from collections.abc import Callable
from functools import cached_property, partial
from pathlib import Path

from evaltrack.language import tr
from evaltrack.touch.tablet.tablet_screens import ScreenName

_FOR_OTHERS = ("folder", "pack")  # what is chosen for a screen that is not of this room


class SeasonScreens:
    """A part of the app. It imports these screens only where somebody asks for one."""

    def first_screen(self) -> str:
        """Return where home leads: to the ways to a season where none is in hand and none was refused."""
        without = self.desk.season is None and self.desk.refused is None
        return ScreenName.SEASONS if without else ScreenName.HOME

    def mark_invented(self, *_) -> None:
        """Show on every screen whether the season in hand is that of the invented team."""
        if self.desk.invented or "invented_mark" in vars(self):
            self.invented_mark.show(self.desk.invented)

    @cached_property
    def invented_mark(self):
        """Return the mark over every screen, made when it is first needed."""
        from evaltrack.touch.widgets.invented_mark import InventedMark

        return InventedMark(self.screens)

    @cached_property
    def season_draft(self):
        """Return the season that is being put together; it is kept until its file is made."""
        from evaltrack.touch.seasons.season_draft import SeasonDraft

        return SeasonDraft()

    def _make_seasons(self):
        from evaltrack.touch.seasons.seasons_screen import SeasonsScreen

        screen = SeasonsScreen(name=ScreenName.SEASONS, desk=self.desk, worker=self.worker)
        screen.bind(
            on_back=partial(self.go, ScreenName.HOME),
            on_opened=self._to_season,
            on_start_ours=partial(self.go, ScreenName.OUR_TEAM),
            on_file=self._to_season_file,
            on_palette=self._change_palette,
            on_setup=partial(self.go, ScreenName.SETUP),
            on_backups=partial(self.go, ScreenName.BACKUPS),
            on_packs=partial(self.go, ScreenName.PACKS),
            on_season_end=self._to_season_end,
            on_next_season=self._to_next_season,
        )
        return screen

    def _make_file(self):
        from evaltrack.touch.seasons.file_screen import FileScreen

        screen = FileScreen(name=ScreenName.FILE, desk=self.desk)
        screen.bind(on_back=self._from_file, on_chosen=self._chosen)
        return screen

    def _make_our_team(self):
        from evaltrack.touch.seasons.our_team_screen import OurTeamScreen

        screen = OurTeamScreen(name=ScreenName.OUR_TEAM, desk=self.desk, draft=self.season_draft)
        screen.bind(on_back=partial(self.go, ScreenName.SEASONS), on_done=partial(self.go, ScreenName.ROSTER))
        return screen

    def _make_roster(self):
        from evaltrack.touch.seasons.roster_screen import RosterScreen

        screen = RosterScreen(
            name=ScreenName.ROSTER, desk=self.desk, draft=self.season_draft, worker=self.worker
        )
        screen.bind(
            on_back=partial(self.go, ScreenName.OUR_TEAM),
            on_file=self._to_roster_file,
            on_made=self._to_made,
        )
        return screen

    def _to_season(self, *_) -> None:
        self.go(ScreenName.BOARD if self.desk.practice else ScreenName.HOME)

    def _to_season_file(self, *_) -> None:
        self._ask_for_file("SEASON")

    def _to_roster_file(self, *_) -> None:
        self._ask_for_file("ROSTER")

    def _ask_for_file(self, wanted: str) -> None:
        from evaltrack.touch.seasons.file_screen import Wanted

        self.screen(ScreenName.FILE).ask(Wanted[wanted])
        self.go(ScreenName.FILE)

    def ask_for_folder(self, back: str, then: Callable[[str], None], wanted: str = "FOLDER") -> None:
        """Ask for a folder to write into, or a file, for a screen; ``then`` is given the path on it."""
        self._file_for = back, then
        self._ask_for_file(wanted)

    def _from_file(self, screen) -> None:
        if screen.wanted in _FOR_OTHERS:
            self.go(self._file_for[0])
            return
        lead_back = {
            "roster": ScreenName.ROSTER,
            "calendar": ScreenName.CALENDAR,
            "backups": ScreenName.BACKUPS,
        }
        self.go(lead_back.get(screen.wanted, ScreenName.SEASONS))

    def _chosen(self, screen, path: str) -> None:
        if screen.wanted in _FOR_OTHERS:
            back, then = self._file_for
            self.go(back)
            then(path)
        elif screen.wanted in ("roster", "calendar"):
            self.go(screen.wanted)
            self.screen(screen.wanted).read(path)
        elif screen.wanted == ScreenName.BACKUPS:
            self.go(ScreenName.BACKUPS)
            self.screen(ScreenName.BACKUPS).write_to(path)
        elif self.desk.open(Path(path)):
            self._to_season()
        else:
            screen.words = self.desk.message

    def _to_made(self, screen, path: Path) -> None:
        if not self.desk.open(path):
            screen.words = self.desk.message
        else:
            self.season_draft.begin()
            self._to_season()
            self.desk.message = tr(
                "Your season file is {path}. Copy it from there to keep it safe.", path=path
            )
