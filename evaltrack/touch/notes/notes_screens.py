"""How home and a player's screen lead to the families' pages, and these to one another."""

from functools import cached_property, partial

_FAMILIES, _NOTE, _PICKS, _HISTORY, _LOOK_BACK = "notes", "note", "note_picks", "note_history", "look_back"


class NotesScreens:
    """A part of the app."""

    _note_from = _FAMILIES

    @cached_property
    def notes_in_hand(self):
        """Return the families' pages, made when somebody first asks for them."""
        from evaltrack.touch.notes.notes_in_hand import NotesInHand

        return NotesInHand(self.desk, self.worker)

    def _make_notes(self):
        from evaltrack.touch.notes.families_screen import FamiliesScreen

        screen = FamiliesScreen(name=_FAMILIES, desk=self.desk, notes=self.notes_in_hand)
        screen.bind(on_back=partial(self.go, "home"), on_page=self._to_note)
        return screen

    def _make_note(self):
        from evaltrack.touch.notes.note_screen import NoteScreen

        screen = NoteScreen(name=_NOTE, desk=self.desk, notes=self.notes_in_hand)
        screen.bind(
            on_back=lambda _: self.go(self._note_from),
            on_history=partial(self._to_page, _HISTORY),
            on_look_back=partial(self._to_page, _LOOK_BACK),
            on_choose=lambda screen, field: self._to_page(_PICKS, screen, field),
        )
        return screen

    def _make_note_picks(self):
        from evaltrack.touch.notes.picks_screen import PicksScreen

        screen = PicksScreen(name=_PICKS, desk=self.desk, notes=self.notes_in_hand)
        screen.bind(on_back=partial(self.go, _NOTE))
        return screen

    def _make_note_history(self):
        from evaltrack.touch.notes.note_history_screen import NoteHistoryScreen

        screen = NoteHistoryScreen(name=_HISTORY, desk=self.desk, notes=self.notes_in_hand)
        screen.bind(on_back=partial(self.go, _NOTE))
        return screen

    def _make_look_back(self):
        from evaltrack.touch.notes.look_back_screen import LookBackScreen

        screen = LookBackScreen(name=_LOOK_BACK, desk=self.desk, notes=self.notes_in_hand)
        screen.bind(on_back=partial(self.go, _NOTE))
        return screen

    def _to_note(self, screen, player) -> None:
        """Show the page of a player's family; Back leads where one came from."""
        self._note_from = screen.name if screen else _FAMILIES
        self.screen(_NOTE).open_player(player)
        self.go(_NOTE)

    def _to_page(self, name: str, note, *what) -> None:
        """Go to a screen about the page that is shown."""
        self.screen(name).open_page(note.key, *what)
        self.go(name)
