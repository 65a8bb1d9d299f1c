"""What is done to a page on its screen. All is saved at once; what is typed, when its field is left."""

from collections.abc import Sequence

from evaltrack.language import Language, mark, tr
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.ident import new_id
from evaltrack.rink.note_life import NoteFact, NoteField
from evaltrack.touch.notes import page_edits
from evaltrack.words.family.sheet import Sentence

_STAYS = mark("What you wrote yourself stays as you wrote it: look at it in the page's language.")
_ASKED = mark("{asked} Look at it, then tap I have read it once more.")


class PageChanges:
    """A part of the page's screen.

    ``typed`` are the fields that are always there and what stood in them, by what they are about. ``opened``
    is the key of the sentence, or of the thing that was agreed, that is being changed, and ``new_thing`` that
    of the last one that was begun here. ``asked`` is what the coach is asked under what to look at first.
    """

    _opening = False
    asked: Sequence[str] = ()

    def _do(self, facts: list[NoteFact], show: bool = True) -> bool:
        """Save what is done, and say whether it is saved; the screen says why it is not."""
        saved = not facts or self._notes.write(facts)
        self._stays = self._stays and not saved
        if show:
            self._show()
        else:
            self._tell()
        return saved

    def _keep_typed(self) -> bool:
        """Keep what stands in the fields, whether or not they were left; say whether all of it is kept."""
        if not self._notes.is_in_hand or self._key not in self._notes.lives:
            return True  # the file went away meanwhile, which is said elsewhere
        kept = [self._keep_field(field) for field in list(self.typed)]
        if self._editor:
            kept.append(self._editor.keep())
        return all(kept)

    def hold_field(self, field: NoteField, typed) -> None:
        """Remember a field that is always there, and keep what was typed in it when it is left."""
        self.typed[field] = typed, typed.text
        typed.bind(focus=lambda _, focus: focus or self._keep_field(field))

    def _keep_field(self, field: NoteField) -> bool:
        typed, given = self.typed.get(field, (None, ""))
        if typed is None or typed.text == given:
            return True  # nothing was typed, whatever was changed elsewhere
        saved = self.say(field, typed.text)
        if saved:
            self.typed[field] = typed, typed.text
        return saved

    def hold_editor(self, editor) -> None:
        """Remember where something is being changed; the keyboard comes when it was opened just now."""
        self._editor = editor
        if self._opening:
            editor.begin()
        self._opening = False

    def open_editor(self, key: str) -> None:
        """Let a sentence, or a thing that was agreed, be changed."""
        if self._keep_typed():
            self.opened, self.words, self._opening = key, "", True
            self._show()

    def close_editor(self) -> None:
        """End a change, once it is kept."""
        if self._keep_typed():
            self.opened = ""
            self._show()

    def write(self, ours: Sentence, text: str) -> bool:
        """Put the coach's words in the place of a sentence, and say whether they are saved."""
        return self._do(page_edits.words_of(self._life, ours, text), show=False)

    def put_back(self, ours: Sentence) -> None:
        """Have a sentence as it was drafted."""
        self._end_editor()
        self._do(page_edits.ours_again(self._life, ours))

    def leave_out(self, ours: Sentence) -> None:
        """Leave a sentence out of the page."""
        self._end_editor()
        self._do(page_edits.left_out(self._life, ours))

    def say(self, field: NoteField, text: str) -> bool:
        """Note a text, or a day, of which the page has one only, and say whether it is saved."""
        return self._do(page_edits.said(self._life, field, text), show=False)

    def say_at_once(self, field: NoteField, text: str) -> None:
        """Note a text or a day by one touch, and show it in its field."""
        if self._keep_typed():
            self._do(page_edits.said(self._life, field, text))

    def take_language(self, language: Language) -> None:
        """Have the page in a language; it is remembered for the family's next pages."""
        self.say_at_once(NoteField.LANGUAGE, str(language))
        edits = self._life.edits
        own = edits.coach_words or edits.agreed or any(edits.words.values())
        self.words = tr(_STAYS) if own else ""

    def add_thing(self) -> None:
        """Begin one more thing that was agreed."""
        self.new_thing = new_id().hex
        self.open_editor(self.new_thing)

    def agree(self, about: str, thing: Agreed) -> bool:
        """Note what was agreed, and say whether it is saved."""
        return self._do(page_edits.agreed(self._life, about, thing), show=False)

    def take_out(self, about: str) -> None:
        """Note that nothing of the kind was agreed."""
        self._end_editor()
        self._do(page_edits.not_agreed(self._life, about))

    def _end_editor(self) -> None:
        """End a change of which nothing that stands in the fields is kept."""
        self.opened, self._editor = "", None

    def turn_discussed(self) -> None:
        """Note that the page was talked over today, or that it was not."""
        day = "" if self._life.discussed else self.today().isoformat()
        self._do(page_edits.said(self._life, NoteField.DISCUSSED, day))

    def mark_read(self) -> None:
        """Note that the page was read as it stands; what the coach was not asked about yet is asked first."""
        asked = self.asked
        if not self._keep_typed():
            return
        self.opened = ""
        self._show()  # what was being typed is in it
        page = self._shown
        if not set(self.asked) <= set(asked):
            self.words = tr(_ASKED, asked=self.asked[0])
        elif page and page.is_draft:
            self.words = ""
            self._do([NoteFact(self._key, NoteField.READ, str(page.mark))])
