"""The form for one skill; what follows from a change is asked in the place of the form."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.catalogue_fit import to_be_asked
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Skill
from evaltrack.touch.catalogue.form_lines import TargetLine, TextLine, WhoLine
from evaltrack.touch.catalogue.skill_draft import AT_HOME, EMPTY, SkillDraft
from evaltrack.touch.catalogue.skill_questions import (
    NEW,
    SAME,
    Question,
    of_retiring,
    of_series,
    why_not_retired,
)
from evaltrack.touch.catalogue.target_counts import TargetCounts
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, answers_for
from evaltrack.words.below import target_words
from evaltrack.words.wording import decimal

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_LINES = {
    "name": (mark("Name"), mark("As it stands on screens and paper, at most 40 letters.")),
    "caption": (mark("In a few words"), mark("For the head of a board, at most 48 letters.")),
    "starts": (mark("A try starts when"), mark("One moment that two observers see alike.")),
    "done": (mark("It is done when"), mark("All that must happen for it to count as done.")),
    "missed": (mark("It is missed when"), mark("Everything else that begins.")),
    "not_counted": (mark("Not counted is"), mark("What is no try at all: nothing is tapped, or “unseen”.")),
    "looks_like": (
        mark("What a parent sees"),
        mark("When it goes well; small first letter, at most 80 letters."),
    ),
    AT_HOME: (mark("To try at home"), mark("One suggestion in each line, no ice needed. It may be empty.")),
}
_LEFT, _RIGHT = ("caption", AT_HOME), ("starts", "done", "missed", "not_counted", "looks_like")
_GO_ON = mark("Go on writing")


class SkillForm(AppScreen):
    """A skill as it is, or a new one, to be changed.

    Nothing is saved before Save, and that only while no line has a complaint and no question is open
    (``asking``). ``on_done`` comes when it is left, saved or not. ``running`` says that a practice runs:
    nothing is retired then.
    """

    __events__ = ("on_back", "on_done")
    heading = StringProperty("")
    summary = StringProperty("")
    retired = BooleanProperty(False)
    can_retire = BooleanProperty(False)
    running = BooleanProperty(False)
    ready = BooleanProperty(False)
    asking = BooleanProperty(False)

    def __init__(self, review, worker, **kwargs):
        super().__init__(**kwargs)
        self._review, self._counts = review, TargetCounts(review, worker, self._show_target)
        self._form = self.ids.form.__self__
        self._texts = {
            name: TextLine(title=tr(title), says=tr(says)) for name, (title, says) in _LINES.items()
        }
        self._texts[AT_HOME].breaks = True
        self._who = WhoLine(title=tr("Who is watched"))
        self._target = TargetLine(title=tr("Target"))
        for line in (self._texts["name"], self._who, self._target, *map(self._texts.get, _LEFT)):
            self.ids.left.add_widget(line)
        for name in _RIGHT:
            self.ids.right.add_widget(self._texts[name])
        self._draft = SkillDraft(())
        for name, line in self._texts.items():
            line.bind(on_words=lambda _, text, name=name: self._write(name, text))
        self._who.bind(on_turn=lambda _, letter: self._turn(Position(letter)))
        self._target.bind(on_step=lambda _, by: self._step(by))
        self.open(None)

    def on_pre_enter(self, *_):
        """Follow the standings, of which the target's line tells."""
        self._review.show(self._show_target)

    def on_pre_leave(self, *_):
        """Leave the standings alone."""
        self._review.hide(self._show_target)

    def open(self, skill: Skill | None) -> bool:
        """Show a skill as it is, or an empty form for a new one; False when the season cannot be read."""
        self.desk.message = ""
        return self.desk.told(lambda: self._take_up(skill))

    def _take_up(self, skill: Skill | None) -> None:
        desk = self.desk
        self._draft = SkillDraft.of(skill, desk.skills.values(), desk.retired_skills(), desk.drills)
        self.running = desk.season.practices.running() is not None
        self.retired = skill is not None and not self._draft.in_use
        self.can_retire = self._draft.in_use and len(desk.skills) > 1
        self.heading = tr("A new skill") if skill is None else skill.name
        for name, line in self._texts.items():
            line.field.text = self._draft.texts[name]
            line.field.cursor = (0, 0)
        self._close_question()
        self._show()

    def _write(self, name: str, text: str) -> None:
        self._draft.texts[name] = text
        self._show()

    def _turn(self, position: Position) -> None:
        self._draft.turn(position)
        self._show()

    def _step(self, by: int) -> None:
        if by > 0:
            self._draft.raise_target()
        else:
            self._draft.lower_target()
        self._show()

    def _show(self) -> None:
        draft = self._draft
        wrong = draft.complaints()
        for name, line in self._texts.items():
            line.wrong = f"{tr(EMPTY)} {line.says}" if wrong.get(name) == tr(EMPTY) else wrong.get(name, "")
        self._who.wrong, self._who.chosen = wrong.get("for", ""), "".join(draft.positions)
        self.summary = self._named(bool(wrong.get("name")))
        self.ready = not wrong
        self._show_target()

    def _named(self, without_name: bool) -> str:
        if without_name:
            return tr("its key in files follows from the name")
        key = self._draft.key
        return tr("{key} in files, retired", key=key) if self.retired else tr("{key} in files", key=key)

    def _show_target(self, *_) -> None:
        self._target.target = tr("{number} %", number=decimal(100 * self._draft.target, trim=True))
        self._target.says = self._below()

    def _below(self) -> str:
        """Return how many players the target puts below it; of a skill out of use, what a target is."""
        skill = self._draft.skill
        if skill is None or self.retired:
            return tr("The share of tries that should come off.")
        self._counts.follow(self.desk.season, skill)
        now, then = self._counts.of(skill.target), self._counts.of(self._draft.target)
        return target_words(now, then) if now and then else self._counts.words

    def on_back(self) -> None:
        """Leave the question that is asked, or the form; what was changed in it is asked about."""
        if self.asking:
            self._close_question()
        elif self._draft.changed:
            leave = Option(tr("Leave it"), tr("nothing is changed"), lambda: self.dispatch("on_done"))
            self._ask(Question(tr("What was changed here is not saved."), []), [leave], tr(_GO_ON))
        else:
            self.dispatch("on_done")

    def save(self) -> None:
        """Save what stands there, all of it or nothing; ask first where tries stand under other words."""
        draft, tries = self._draft, {}
        if draft.complaints():
            return
        parts = draft.rewritten
        if parts and not self.desk.told(lambda: tries.update(self.desk.season.catalogue_changes.tries())):
            return
        if to_be_asked([draft.key] if parts else [], tries, ()):
            options = [
                Option(tr(SAME), tr("one series"), lambda: self._keep(same=True)),
                Option(tr(NEW), tr("the count begins again"), lambda: self._keep(same=False)),
            ]
            self._ask(of_series(draft, parts, tries[draft.key]), options, tr(_GO_ON))
        else:
            self._keep(same=True)

    def _keep(self, same: bool) -> None:
        draft = self._draft
        as_it_was = draft.in_use and not draft.changed
        self._end(as_it_was or self.desk.change_catalogue(draft.skills(), same=[draft.key] if same else []))

    def ask_to_retire(self) -> None:
        """Ask once more before the skill is taken out of use, and out of the drills that watch it."""
        if why_not := why_not_retired(self._draft):
            self.desk.message = why_not
        else:
            retire = Option(tr("Retire it"), tr("out of use from now on"), self._retire)
            self._ask(of_retiring(self._draft), [retire], tr("Keep it"))

    def _retire(self) -> None:
        left, drills = self._draft.without()
        self._end(self.desk.change_catalogue(left, drills))

    def _end(self, saved: bool) -> None:
        if saved:
            self.dispatch("on_done")
        else:
            self._close_question()

    def _ask(self, question: Question, options: list[Option], stay: str) -> None:
        self.asking, self.desk.message = True, ""
        lines = [Line(text=words) for words in question.lines]
        keep = Option(stay, tr("back to the form"), self._close_question)
        self._replace([Heading(text=question.words), *lines, answers_for(keep, *options, wide="300dp")])

    def _close_question(self) -> None:
        self.asking = False
        self._replace([self._form])

    def _replace(self, parts: list) -> None:
        self.ids.body.clear_widgets()
        for part in parts:
            self.ids.body.add_widget(part)
        self.ids.view.scroll_y = 1
