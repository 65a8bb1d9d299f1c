"""A file is chosen: a season to open, a roster or a calendar to read; or a folder to write something to."""

from enum import StrEnum
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, OptionProperty, StringProperty

from evaltrack.device.season_places import seasons_folder
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import one_line
from evaltrack.touch.seasons.file_list import FileList  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class Wanted(StrEnum):
    """What is chosen."""

    SEASON = "season"
    ROSTER = "roster"
    CALENDAR = "calendar"
    BACKUP_FOLDER = "backups"
    FOLDER = "folder"
    PACK = "pack"

    @property
    def is_folder(self) -> bool:
        """Say whether a folder is chosen, and no file."""
        return self in (Wanted.BACKUP_FOLDER, Wanted.FOLDER)


_ENDINGS = {
    Wanted.SEASON: [".db"],
    Wanted.ROSTER: [".csv", ".tsv", ".txt"],
    Wanted.CALENDAR: [".ics"],
    Wanted.BACKUP_FOLDER: [".db", ".age"],
    Wanted.FOLDER: [".db", ".age", ".pack"],
    Wanted.PACK: [".pack", ".age"],
}
_HEADINGS = {
    Wanted.SEASON: mark("Open a season file"),
    Wanted.ROSTER: mark("Read a roster"),
    Wanted.CALENDAR: mark("Read a calendar"),
    Wanted.BACKUP_FOLDER: mark("Choose a folder"),
    Wanted.FOLDER: mark("Choose a folder"),
    Wanted.PACK: mark("Take in a pack"),
}
_HINTS = {
    Wanted.SEASON: mark("Season files end in .db. The newest stand first."),
    Wanted.ROSTER: mark("A table saved as CSV, or as text: number, name, position. The newest stand first."),
    Wanted.CALENDAR: mark("Calendars end in .ics. The newest stand first."),
    Wanted.BACKUP_FOLDER: mark("Tap a folder to look into it. Season files and backups in it are shown too."),
    Wanted.FOLDER: mark("Tap a folder to look into it, and then write it there."),
    Wanted.PACK: mark("Packs end in .pack, sealed ones mostly in .age. The newest stand first."),
}
_FOLDERS = {
    Wanted.SEASON: seasons_folder,
    Wanted.BACKUP_FOLDER: lambda: home(),
    Wanted.FOLDER: lambda: home(),
}


class FileScreen(AppScreen):
    """Shows folders and files; ``on_chosen`` comes with the file's path. ``words`` says what is wrong."""

    __events__ = ("on_back", "on_chosen")
    wanted = OptionProperty(Wanted.SEASON, options=list(Wanted))
    heading = StringProperty("")
    hint = StringProperty("")
    words = StringProperty("")
    folder = StringProperty("")
    takes_folder = BooleanProperty(False)

    def ask(self, wanted: Wanted) -> None:
        """Ask for such a file, from the folder in which it most likely lies."""
        self.wanted, self.words, self.takes_folder = wanted, "", wanted.is_folder
        self.heading, self.hint = tr(_HEADINGS[wanted]), tr(_HINTS[wanted])
        self.ids.files.endings = _ENDINGS[wanted]
        self.look_in(_FOLDERS.get(wanted, lambda: home() / "Downloads")())

    def choose(self, path: str) -> None:
        """Choose a file; where a folder is wanted a file is none."""
        if not self.takes_folder:
            self.dispatch("on_chosen", path)

    def choose_folder(self) -> None:
        """Choose the folder that is shown."""
        self.dispatch("on_chosen", self.ids.files.path)

    def look_in(self, folder: Path) -> None:
        """Show a folder."""
        self.words = ""
        self.ids.files.look_in(folder)

    def look_at_home(self) -> None:
        """Show the folder of whoever uses this tablet."""
        self.look_in(home())

    def look_at_ours(self) -> None:
        """Show the folder in which this tablet makes season files."""
        self.look_in(seasons_folder())

    def show_folder(self, path: str) -> None:
        """Say which folder is shown."""
        self.folder, self.words = one_line(path), ""


def home() -> Path:
    """Return the folder of whoever uses this tablet, or the uppermost one."""
    try:
        return Path.home()
    except RuntimeError:
        return Path("/")
