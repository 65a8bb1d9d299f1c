"""What the screen of one page is made of: sentences to be tapped, what was agreed, the coach's words."""

from collections.abc import Callable, Iterator
from datetime import date
from functools import partial

from kivy.uix.widget import Widget

from evaltrack.language import Language, mark, tr
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import NoteField
from evaltrack.touch.notes.editors import DayStepper, SentenceEditor, ThingEditor
from evaltrack.touch.notes.notes_in_hand import PageInHand
from evaltrack.touch.notes.sentence_row import SentenceRow
from evaltrack.touch.widgets.field import Field, WordsField
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for
from evaltrack.words.family import sheet
from evaltrack.words.family.life_words import thing_words
from evaltrack.words.family.page_language import in_words_of, language_name, page_language
from evaltrack.words.family.sheet import Part, Sentence
from evaltrack.words.wording import long_date

_OURS_TO_WRITE = (sheet.COACH, sheet.AGREED)  # the coach writes all of these
_PICKED = {
    sheet.GOING_WELL: (NoteField.STRENGTHS, mark("Choose what goes well")),
    sheet.NEXT: (NoteField.NEXT_SKILLS, mark("Choose what is next")),
}
_LEFT_OUT, _YOURS = mark("left out of the page"), mark("in your words")
_FORMS = (
    (mark("Large print"), mark("a PDF to print"), "pdf", True),
    (mark("Web page"), mark("for a browser"), "html", False),
    (mark("Plain text"), mark("for an e-mail"), "text", False),
    (mark("Document"), mark("to change elsewhere"), "docx", False),
)
_FIRST = mark("Look at this first")
_NOTHING = mark("Nothing stands here yet.")
_WRITE = mark("What the counts do not show")


class NoteParts:
    """Makes the widgets of a page; each acts on the ``screen``. ``opened`` is what is being changed."""

    def __init__(self, page: PageInHand, opened: str, screen):
        self._page, self._opened, self._screen = page, opened, screen

    def sentences(self) -> list[Widget]:
        """Return the parts that were drafted, each sentence to be tapped, and the counts between them."""
        made: list[Widget] = []
        for part in self._page.full.parts:
            if part.key not in _OURS_TO_WRITE:
                made += self._part(part)
            if part.key == sheet.GOING_WELL:
                made += self._counts()
        return made

    def _part(self, part: Part) -> list[Widget]:
        made: list[Widget] = [Heading(text=part.heading)]
        made += [self._sentence(one) for one in part.sentences] or [Line(text=tr(_NOTHING), soft=True)]
        if part.key in _PICKED:
            field, title = _PICKED[part.key]
            act = partial(self._screen.dispatch, "on_choose", field)
            made.append(keys_for([Option(tr(title), tr("from the list of skills"), act)], "260sp"))
        return made

    def _sentence(self, ours: Sentence) -> Widget:
        own = self._page.life.edits.words.get(ours.key)
        screen = self._screen
        if self._opened == ours.key:
            editor = SentenceEditor(ours.text if own is None else own)
            editor.bind(
                on_words=lambda _, text: screen.write(ours, text),
                on_done=lambda _: screen.close_editor(),
                on_ours=lambda _: screen.put_back(ours),
                on_out=lambda _: screen.leave_out(ours),
            )
            screen.hold_editor(editor)
            return editor
        whose = "" if own is None else tr(_YOURS if own else _LEFT_OUT)
        row = SentenceRow(title=own or ours.text, small=whose)
        row.bind(on_press=lambda _: screen.open_editor(ours.key))
        return row

    def _counts(self) -> list[Widget]:
        with in_words_of(self._page.sheet):
            told = list(self._counted())
        return [Line(text="\n".join(told), soft=True)] if told else []

    def _counted(self) -> Iterator[str]:
        """Return what stands on the page between its sentences, in the words of the page."""
        for row in self._page.sheet.rows:
            yield (
                tr(
                    "{skill}: {count}, {share}; {direction}",
                    skill=row.name,
                    count=row.count,
                    share=row.share,
                    direction=row.direction,
                )
            )
        if thin := self._page.sheet.thin:
            yield tr("Too few tries to say: {thin}", thin=thin)

    def beside(self, first: list[str], leading_on: list[tuple[str, str, Callable[[], None]]]) -> list[Widget]:
        """Return what the coach adds: words, what was agreed, the meeting.

        ``first`` is what to look at before the page is given away, ``leading_on`` are keys that lead to other
        pages of the family: title, small words, and what they do.
        """
        made = [Heading(text=tr(_FIRST)), *(Line(text=one) for one in first)] if first else []
        made += [Heading(text=self._heading(sheet.COACH)), self._coach_words()]
        made += [Heading(text=self._heading(sheet.AGREED)), *self._things()]
        made += [Heading(text=tr("The meeting")), self._meeting(), self._coach()]
        options = [self._talked_over(), *(Option(*one) for one in leading_on)]
        made.append(keys_for(options, "240sp"))
        made += [Heading(text=tr("The language of the page")), keys_for(self._languages(), "160sp")]
        made += [Heading(text=tr("In another form")), keys_for(self._forms(), "160sp")]
        return made

    def _languages(self) -> list[Option]:
        """Return a key for each language that the family may have its page in."""
        now = page_language(self._page.life.edits.language)
        return [
            Option(language_name(one), "", partial(self._screen.take_language, one), one is now)
            for one in Language
        ]

    def _forms(self) -> list[Option]:
        return [
            Option(tr(title), tr(small), partial(self._screen.print_out, form, large))
            for title, small, form, large in _FORMS
        ]

    def _heading(self, key: str) -> str:
        return self._page.full.part(key).heading

    def _coach_words(self) -> Widget:
        field = WordsField(hint_text=tr(_WRITE), breaks=True, text=self._page.life.edits.coach_words)
        self._screen.hold_field(NoteField.COACH_WORDS, field)
        return field

    def _coach(self) -> Widget:
        field = Field(
            hint_text=tr("The coach's name on the page"),
            text=self._page.life.edits.coach,
            font_size="18sp",
            size_hint_y=None,
            height="52sp",
        )
        self._screen.hold_field(NoteField.COACH, field)
        return field

    def _things(self) -> list[Widget]:
        things = self._page.life.things
        made = [self._thing(about, one) for about, one in things.items()]
        if self._opened and self._opened == self._screen.new_thing not in things:
            made.append(self._thing(self._opened, Agreed("")))
        add = Option(
            tr("Add what was agreed"), tr("what, who helps, when to look again"), self._screen.add_thing
        )
        return [*made, keys_for([add], "260sp")]

    def _thing(self, about: str, one: Agreed) -> Widget:
        screen = self._screen
        if self._opened == about:
            editor = ThingEditor(one, screen.today)
            editor.bind(
                on_thing=lambda _, thing: screen.agree(about, thing),
                on_done=lambda _: screen.close_editor(),
                on_out=lambda _: screen.take_out(about),
            )
            screen.hold_editor(editor)
            return editor
        row = SentenceRow(title=one.what, small=thing_words(one))
        row.bind(on_press=lambda _: screen.open_editor(about))
        return row

    def _meeting(self) -> Widget:
        stepper = DayStepper(without=tr("No day yet"), said=tr("On {day}"), day=self._page.life.edits.meeting)
        stepper.today = self._screen.today
        stepper.bind(on_turn=lambda _, day: self._screen.say(NoteField.MEETING, day.isoformat()))
        return stepper

    def _talked_over(self) -> Option:
        day: date | None = self._page.life.discussed
        small = tr("on {day}", day=long_date(day)) if day else tr("notes today as the day")
        return Option(tr("Talked over"), small, self._screen.turn_discussed, bool(day))
