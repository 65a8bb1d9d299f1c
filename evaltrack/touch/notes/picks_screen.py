"""The skills that may stand under going well, or be a next step: the coach picks what the calls allow."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.notes.notes_in_hand import NotesInHand, PageInHand
from evaltrack.touch.notes.sentence_row import SentenceRow
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Line
from evaltrack.words.family.choice import MOST_NEXT, MOST_STRENGTHS
from evaltrack.words.family.choices import Offered
from evaltrack.words.family.drafting import choices
from evaltrack.words.family.page_language import in_words_of

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_HEADINGS = {NoteField.STRENGTHS: mark("What goes well"), NoteField.NEXT_SKILLS: mark("What is next")}
_MOST = {NoteField.STRENGTHS: MOST_STRENGTHS, NoteField.NEXT_SKILLS: MOST_NEXT}
_NONE = mark("The counts allow none yet: watch this player more often first.")
_SUMMARY = mark("Lit: on the page. Tap to add one or to take it out.")
_FULL = mark("The page has room for {most} of them: take one out first.")


class PicksScreen(AppScreen):
    """One row for each skill that the calls allow. ``is_picked`` says that they are not as drafted."""

    __events__ = ("on_back",)
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    is_picked = BooleanProperty(False)

    def __init__(self, desk: Desk, notes: NotesInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._notes = notes
        self._key: NoteKey | None = None
        self._field = NoteField.STRENGTHS

    def open_page(self, key: NoteKey, field: NoteField) -> None:
        """Have the skills for a part of a page shown when the screen comes in front."""
        self._key, self._field = key, field

    def on_pre_enter(self, *_):
        """Show what may be picked."""
        self.words, self.ids.view.scroll_y = "", 1
        self.summary = tr(_SUMMARY)
        self._show()

    @property
    def _page(self) -> PageInHand | None:
        return self._notes.page(self._key) if self._key else None

    def _offered(self) -> tuple[Offered, ...]:
        page = self._page
        with in_words_of(page.sheet):  # as the page would say it
            found = choices(page.ground, page.player, page.standings)
        return found.strengths if self._field is NoteField.STRENGTHS else found.next_skills

    def _show(self) -> None:
        body, page = self.ids.body, self._page
        body.clear_widgets()
        if page is None:
            return
        self.heading = f"{page.player.number}  {tr(_HEADINGS[self._field])}"
        self.is_picked = self._picked() is not None
        offered, on_page = self._offered(), self._on_page()
        for one in offered:
            body.add_widget(self._row(one, one.skill in on_page))
        if not offered:
            body.add_widget(Line(text=tr(_NONE)))

    def _row(self, one: Offered, on_page: bool) -> SentenceRow:
        row = SentenceRow(title=one.text, small=tr("on the page") if on_page else "", active=on_page)
        row.bind(on_press=lambda _: self.turn(one.skill))
        return row

    def _picked(self) -> tuple[str, ...] | None:
        edits = self._page.life.edits
        return edits.strengths if self._field is NoteField.STRENGTHS else edits.next_skills

    def _on_page(self) -> list[str]:
        picked = self._picked()
        return [one.skill for one in self._offered() if one.drafted] if picked is None else list(picked)

    def turn(self, skill: str) -> None:
        """Put a skill on the page after the others, or take it out."""
        on_page = self._on_page()
        if skill in on_page:
            on_page.remove(skill)
        elif len(on_page) >= _MOST[self._field]:
            self.words = tr(_FULL, most=_MOST[self._field])
            return
        else:
            on_page.append(skill)
        self._write(" ".join(on_page))

    def as_drafted(self) -> None:
        """Have those on the page that were drafted."""
        self._write(None)

    def _write(self, value: str | None) -> None:
        self.words = ""
        self._notes.write([NoteFact(self._key, self._field, value)])
        self._show()
