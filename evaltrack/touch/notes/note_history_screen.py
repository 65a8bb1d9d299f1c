"""All that was done to one page, the newest first; each thing can be taken back, and let hold again."""

from pathlib import Path

from kivy.lang import Builder

from evaltrack.language import tr, tr_many
from evaltrack.rink.note_life import NoteFact
from evaltrack.touch.notes.notes_in_hand import PageInHand
from evaltrack.touch.notes.of_one_page import OfOnePage
from evaltrack.touch.widgets.sheet import KeyedLine
from evaltrack.words.family.life_words import what_was_done
from evaltrack.words.practices import on_and_at

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class NoteHistoryScreen(OfOnePage):
    """One line for each thing that was done to a page."""

    def on_pre_enter(self, *_):
        """Show what was done."""
        self.words, self.ids.view.scroll_y = "", 1
        self._show()

    def _show(self) -> None:
        body, page = self.ids.body, self._notes.page(self._key) if self._key else None
        body.clear_widgets()
        if page is None:
            return
        player, facts = page.player, page.life.facts
        self.heading = f"{player.number}  {player.name}"
        self.summary = tr_many(
            "{number} change, the newest first", "{number} changes, the newest first", len(facts)
        )
        for fact in reversed(facts):
            body.add_widget(self._line(fact, page))

    def _line(self, fact: NoteFact, page: PageInHand) -> KeyedLine:
        names = {key: skill.name for key, skill in page.ground.in_words().skills.items()}
        what = what_was_done(fact, page.life, page.full, names)
        when = on_and_at(fact.at) if fact.in_force else tr("{when}, taken back", when=on_and_at(fact.at))
        title = (tr("Take back") if fact.in_force else tr("Bring back")) if fact.may_go else ""
        line = KeyedLine(words=f"{what}\n{when}", title=title)
        line.bind(on_turn=lambda _: self._turn(fact))
        return line

    def _turn(self, fact: NoteFact) -> None:
        if self._notes.put_in_force(fact, not fact.in_force):
            self._show()
