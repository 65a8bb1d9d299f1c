"""One practice: what was watched when and by whom, what was noted of whom, and what was put right."""

from dataclasses import replace
from datetime import date, datetime
from functools import partial
from pathlib import Path
from uuid import UUID

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.paper.tables.practices import Held, contents, read_held
from evaltrack.rink.days import nth
from evaltrack.rink.practice import Amendment, Practice
from evaltrack.rink.practice_story import Story, story_of
from evaltrack.rink.tally_correction import Change, TallyCorrection
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.putting_right.repairs import Repairs, is_in_force
from evaltrack.touch.widgets.day_question import DayQuestion
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line, Lines, Option, answers_for
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.corrections import Names, what_changed
from evaltrack.words.dating import why_not_held_on
from evaltrack.words.practices import (
    clocks,
    gap_words,
    number_in_day,
    of_player,
    on_and_at,
    stretch_words,
    title_of,
    what_became_of,
)
from evaltrack.words.wording import as_sentence

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_GONE = mark("this practice is not there any more: it was deleted meanwhile")
_NOTHING = mark("Nothing was tallied in it.")


class PracticeScreen(AppScreen):
    """Shows the practice ``key``, and puts it right as a whole.

    ``here`` says that it runs on this tablet: its day and whether it counts are left alone then. ``beside``
    names another practice of the day, ``bare`` says that nothing was noted in this one, and
    ``asking`` that a question stands in the place of the practice.
    """

    __events__ = ("on_back", "on_tallies", "on_gone")
    key = StringProperty("")
    heading = StringProperty("")
    summary = StringProperty("")
    beside = StringProperty("")
    here = BooleanProperty(False)
    aside = BooleanProperty(False)
    bare = BooleanProperty(False)
    asking = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._repairs = Repairs(desk)
        self._held: Held | None = None
        self._beside: Practice | None = None

    def on_pre_enter(self, *_):
        """Read the practice again."""
        self.ids.view.scroll_y = 1
        self._show()

    def on_pre_leave(self, *_):
        """Keep the comment, whether or not the field was left."""
        self.keep_comment()

    def keep_comment(self) -> None:
        """Note what stands in the field of the comment when it is another one than before."""
        words, held = " ".join(self.ids.comment.text.split()), self._held
        if not self.desk.season:
            return  # the file went away meanwhile, which is said elsewhere
        if held and words != held.comment and self._repairs.comment(held.practice, words):
            self._held = replace(held, comment=words)

    def back(self) -> None:
        """Leave the question that is asked, or the screen."""
        if self.asking:
            self._show()
        else:
            self.dispatch("on_back")

    def _show(self) -> None:
        self._held = None  # a practice that cannot be read is not the one before
        self.desk.told(self._fill)
        if self._held is None:
            Clock.schedule_once(lambda _: self.dispatch("on_gone"), 0)

    def _fill(self) -> None:
        desk, rows = self.desk, {row.practice.key: row for row in read_held(self.desk.season)}
        if self.key not in rows:
            raise EvaltrackError(tr(_GONE))
        self._held = held = rows[self.key]
        one = held.practice
        day = [row.practice for row in rows.values() if row.practice.held_on == one.held_on]
        self._beside = next((other for other in day if other.key != one.key and not other.aside), None)
        self.beside = (
            tr("with the {nth} one", nth=nth(number_in_day(self._beside, day))) if self._beside else ""
        )
        self.here = desk.practice is not None and desk.practice.key == one.key
        self.aside, self.asking, self.bare = one.aside, False, not (held.tallies or held.of_tallies)
        self.heading = title_of(one, day)
        said = contents(held)
        self.summary = tr("set aside, counts for nothing; {what}", what=said) if one.aside else said
        self.ids.comment.text = held.comment
        tallies = desk.season.log.tallies(practice=one.key)
        story = story_of(tallies)
        names = Names.read(desk.season, one.held_on)
        self._replace(
            [
                *self._corrections(held, names),
                *self._planned(one.key, tallies),
                *self._watched(story, names),
                *self._players(story, names),
            ]
        )
        self._ask_for_agreement(held)

    def _replace(self, parts: list) -> None:
        body = self.ids.body
        body.clear_widgets()
        for part in parts:
            body.add_widget(part)

    def _corrections(self, held: Held, names: Names) -> list:
        made = [self._of_practice(held.practice, one) for one in held.corrections[::-1]]
        stands = self.desk.season.log.stands(self.key) if held.of_tallies else []
        whose = {one.tally.id: one.tally.player for one in stands}
        made += [self._of_tallies(one, names, whose) for one in held.of_tallies[::-1]]
        return [Heading(text=tr("Put right")), *made] if made else []

    def _of_practice(self, practice: Practice, correction) -> KeyedLine:
        mine = not self.here and is_in_force(practice, correction)
        words = f"{what_became_of(correction)}; {on_and_at(correction.at)}"
        line = KeyedLine(words=words, title=tr("Take back") if mine else "")
        line.bind(on_turn=lambda _: self._do(self._repairs.take_back, practice, correction))
        return line

    def _of_tallies(self, correction: TallyCorrection, names: Names, whose: dict[UUID, UUID]) -> KeyedLine:
        on = correction.in_force
        what = what_changed(correction, names, whose)
        what = what if on else tr("{change}, taken back", change=what)
        words = f"{what}; {on_and_at(correction.at)}"
        line = KeyedLine(words=words, title=tr("Take back") if on else tr("Count again"))
        line.bind(on_turn=lambda _: self._do(self._repairs.put_in_force, correction, not on))
        return line

    def _planned(self, key: str, tallies) -> list:
        """Return what was planned beside what was done, for a practice that was started from a plan."""
        card = self.desk.season.plans.of_practice(key)
        if card is None:
            return []
        from evaltrack.words.plan_done import done_lines
        from evaltrack.words.planning import plan_names

        names = plan_names(self.desk.skills.values(), self.desk.every_drill)
        return [Heading(text=tr("Planned, and done")), self._lines(done_lines(card, tallies, names))]

    def _watched(self, story: Story, names: Names) -> list:
        moments = [
            (one.first or datetime.max, f"{clocks(one.first, one.last)}  {stretch_words(one, names)}")
            for one in story.stretches
        ]
        moments += [(first, gap_words(first, last)) for first, last in story.gaps]
        lines = [words for _, words in sorted(moments, key=lambda one: one[0])]
        return [Heading(text=tr("Watched")), self._lines(lines)] if lines else [Heading(text=tr(_NOTHING))]

    def _players(self, story: Story, names: Names) -> list:
        there = self.desk.season.turnout.there(self.key).get(self.key, set())
        seen = story.players()
        told = ((f"{p.number} {p.name}", of_player(story, p.id, names)) for p in names.of_players(seen))
        lines = [tr("{who}: {what}", who=who, what=what) for who, what in told]
        without = [f"{p.number} {p.name}" for p in names.of_players(there - seen)]
        if without:
            lines.append(tr("Here, and without a tally: {players}", players=", ".join(without)))
        return [Heading(text=tr("Players")), self._lines(lines)] if lines else []

    def _lines(self, lines: list[str]) -> Lines:
        """Return lines, as wide as they will be."""
        return Lines(lines, self.ids.body.width - 2 * self.ids.body.padding[0])

    def _ask_for_agreement(self, held: Held) -> None:
        if len(held.observers) < 2:
            return
        line = Line(text=tr("Matching the observers' tries …"), soft=True)
        for part in (Heading(text=tr("Two observers")), line):
            self.ids.body.add_widget(part)

        def told(sentences: list[str]) -> None:
            line.text = " ".join(as_sentence(one) for one in sentences)

        work = partial(tasks.agreement_at, self.desk.season.path, held.practice.key)
        self._worker.ask(work, told, lambda why: told([why]))

    def _do(self, write, *what) -> None:
        write(*what)
        self._show()

    def set_aside(self) -> None:
        """Set the practice aside, or bring it back."""
        change = Amendment.BRING_BACK if self.aside else Amendment.SET_ASIDE
        self._do(self._repairs.amend, self._held.practice, change)

    def ask_for_day(self) -> None:
        """Ask on which day it was held."""
        today, view = date.today(), self.ids.view
        question = DayQuestion(size_hint_y=None, height=view.height, latest=today, verb="was")
        question.bind(minimum_height=lambda _, least: setattr(question, "height", max(view.height, least)))
        question.ask(tr("On which day was this practice held?"), self._held.practice.held_on, today)
        question.bind(on_answer=lambda _, day: self._redate(day))
        self._ask([question])

    def _redate(self, day: date) -> None:
        practice, found = self._held.practice, []
        if not self.desk.told(lambda: found.append(why_not_held_on(self.desk.season, practice, day))):
            return
        if found[0]:
            self.desk.message = found[0]
        elif day == practice.held_on:
            self._show()
        else:
            self._do(self._repairs.amend, practice, Amendment.TO_DATE, day)

    def merge(self) -> None:
        """Let all tallies of the practice be of the other one of its day."""
        stands = []
        if self.desk.told(lambda: stands.extend(self.desk.season.log.stands(self.key))):
            wanted = self._repairs.wanted(stands, Change.PRACTICE, self._beside.key, self.key)
            if wanted:
                self._do(self._repairs.correct, wanted, stands)

    def ask_to_delete(self) -> None:
        """Ask once more before a practice without a tally is deleted."""
        keep = Option(tr("Keep it"), tr("as it is"), self._show)
        delete = Option(tr("Delete the practice"), tr("for good"), self._delete)
        words = tr("Nothing was tallied in this practice. Deleted, it cannot be brought back.")
        self._ask([Heading(text=words), answers_for(keep, delete)])

    def _delete(self) -> None:
        if self._repairs.delete(self._held.practice):
            self._held = None
            self.dispatch("on_gone")
        else:
            self._show()

    def _ask(self, parts: list) -> None:
        self._replace(parts)
        self.asking, self.ids.view.scroll_y = True, 1
