"""What was agreed with a family, to be looked at again, beside what the numbers did since."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import StringProperty

from evaltrack.analysis.standings.standing import Call
from evaltrack.language import mark, tr
from evaltrack.rink.note_life import NoteFact, NoteField, NoteLife
from evaltrack.touch.notes.of_one_page import OfOnePage
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line
from evaltrack.words.family.life_words import look_back_heading, looked_words
from evaltrack.words.family.looking_back import since_then
from evaltrack.words.family.sheet import NEXT

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NO_PRACTICE = mark("There was no practice since.")
_NO_SKILL = mark("That page names no skill to work on; these are all that it tells of.")
_NOTHING = mark("Nothing was agreed with this family yet. What you agree stands on its page.")


class LookBackScreen(OfOnePage):
    """The things that were agreed with a family, the last meeting first."""

    summary = StringProperty("")

    def on_pre_enter(self, *_):
        """Show what was agreed."""
        self.words, self.ids.view.scroll_y = "", 1
        self.summary = tr("what was agreed, and what came since")
        if self._notes.is_in_hand and self._key in self._notes.lives:
            self._show()

    def _show(self) -> None:
        body, player = self.ids.body, self.desk.player(self._key.player)
        self.heading = f"{player.number}  {player.name}"
        body.clear_widgets()
        agreed = [life for life in self._notes.of(player.id) if life.things]
        for life in agreed:
            body.add_widget(Heading(text=look_back_heading(life)))
            for about in life.things:
                body.add_widget(self._thing(life, about))
            for line in self._since(life):
                body.add_widget(Line(text=line))
        if not agreed:
            body.add_widget(Line(text=tr(_NOTHING)))

    def _thing(self, life: NoteLife, about: str) -> KeyedLine:
        looked = life.looked_at(about)
        line = KeyedLine(words=looked_words(life, about), title="" if looked else tr("Looked at again"))
        line.bind(on_turn=lambda _: self._look(life, about))
        return line

    def _since(self, life: NoteLife) -> list[str]:
        """Return what was counted since a page was drafted, in the skills that it works on, else in all."""
        page, latest = self._notes.page(life.key), self._notes.latest
        if page is None or latest is None:
            return []
        if life.key.as_of >= latest:
            return [tr(_NO_PRACTICE)]
        number, skills = page.player.number, page.ground.in_words().skills
        before = {one.skill: one for one in page.standings}
        now = {one.skill: one for one in self._notes.standings(number, latest)}
        worked_on = [one.skill for one in page.full.part(NEXT).sentences if one.skill]
        wanted = worked_on or [one.skill for one in page.standings if one.call is not Call.TOO_FEW]
        told = [since_then(before.get(key), now.get(key), skills[key].name) for key in wanted]
        return told if worked_on else [tr(_NO_SKILL), *told]

    def _look(self, life: NoteLife, about: str) -> None:
        agreed_for = life.value(NoteField.LOOK_AGAIN, about) or ""
        self._notes.write([NoteFact(life.key, NoteField.LOOKED_BACK, agreed_for, about)])
        self._show()
