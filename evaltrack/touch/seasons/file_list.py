"""Kivy's file chooser with rows that a finger finds: the newest files first, then the folders by name."""

import os
from datetime import datetime
from pathlib import Path

from kivy.properties import ListProperty, StringProperty
from kivy.uix.filechooser import FileChooserController

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.plain_text import by_letters, one_line
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.row_list import RowList

_UNREAD = mark("This folder cannot be read.")
_NONE = mark("No such file is in this folder.")


class FileRow(ListRow):
    """A file, a folder, or the way up to the folder above."""

    def __init__(self, path: str, is_folder: bool, **kwargs):
        self.path, self.is_folder, self.locked = path, is_folder, False
        super().__init__(**kwargs)


class FileList(FileChooserController):
    """Shows the files with one of the ``endings`` and every folder; ``on_chosen`` comes with a file's path.

    ``words`` says what is wrong, or that there is nothing to choose.
    """

    __events__ = ("on_chosen",)
    endings = ListProperty([])
    words = StringProperty("")

    def __init__(self, **kwargs):
        self._list = RowList()
        super().__init__(filters=[self._fits], sort_func=newest_first, **kwargs)
        self.add_widget(self._list)

    @property
    def rows(self) -> list[FileRow]:
        """Return the rows from top to bottom."""
        return self._list.rows

    def on_chosen(self, path: str) -> None:
        """Leave it to whoever listens."""

    def look_in(self, folder: Path) -> None:
        """Show a folder as it is now, or the nearest one above it that can be read."""
        while not os.access(folder, os.R_OK | os.X_OK) and folder != folder.parent:
            folder = folder.parent
        self.path = str(folder)
        self._trigger_update()

    def on_entries_cleared(self) -> None:
        """Take the rows of another folder out."""
        self._list.show([])

    def on_entry_added(self, node: FileRow, parent=None) -> None:
        """Show one more row."""
        self._list.add_row(node)

    def on_files(self, *_) -> None:
        """Say so when there is no file to choose."""
        self.words = "" if any(not os.path.isdir(path) for path in self.files) else tr(_NONE)

    def _fits(self, _, path: str) -> bool:
        return path.lower().endswith(tuple(self.endings)) and not os.path.isdir(path)

    def _create_entry_widget(self, ctx: dict) -> FileRow:
        path, is_folder = ctx["path"], bool(ctx["isdir"])
        up = ctx["name"] == ".." + ctx["sep"]
        title = tr("Up to the folder above") if up else one_line(ctx["name"])
        small = "" if up else tr("folder") if is_folder else _age(path)
        row = FileRow(path, is_folder, title=title, small=small)
        row.bind(on_press=self._pressed)
        return row

    def _pressed(self, row: FileRow) -> None:
        if not row.is_folder:
            self.dispatch("on_chosen", row.path)
            return
        self.open_entry(row)
        if row.locked:
            self.words = tr(_UNREAD)


def newest_first(paths: list[str], system) -> list[str]:
    """Return files, the newest first, and then folders by their names."""
    folders = [path for path in paths if system.is_dir(path)]
    files = set(paths).difference(folders)
    by_age = sorted(files, key=lambda path: (-_changed(path), path))
    return by_age + sorted(folders, key=lambda path: by_letters(os.path.basename(path)))


def _changed(path: str) -> float:
    try:
        return os.stat(path).st_mtime
    except (OSError, ValueError):
        return 0.0


def _age(path: str) -> str:
    try:
        return tr("changed on {day}", day=in_full(datetime.fromtimestamp(_changed(path)).date()))
    except (OverflowError, OSError, ValueError):
        return ""
