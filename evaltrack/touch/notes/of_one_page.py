"""What the screens beside one family's page have in common."""

from kivy.properties import StringProperty

from evaltrack.rink.note_life import NoteKey
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.notes.notes_in_hand import NotesInHand
from evaltrack.touch.widgets.screen import AppScreen


class OfOnePage(AppScreen):
    """A screen about the page that was opened last; ``words`` is what it tells."""

    __events__ = ("on_back",)
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")

    def __init__(self, desk: Desk, notes: NotesInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._notes = notes
        self._key: NoteKey | None = None

    def open_page(self, key: NoteKey) -> None:
        """Have what is about a page shown when the screen comes in front."""
        self._key = key
