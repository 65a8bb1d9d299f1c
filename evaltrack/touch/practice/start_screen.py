"""Who is here, which drill, which step: before a practice, and during it, when the next drill comes too."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full, nth
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.practice.earlier import NOBODY, Earlier, doubt_about, earlier_on, named
from evaltrack.touch.practice.planned_blocks import PlannedBlocks  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.words.status import status_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

CAUTION = mark(
    "Stay behind the glass. Stop tallying a player who was knocked: recognise, remove, and "
    "leave the rest to licensed medical advice. Contact skills follow your governing body's "
    "age rules."
)


class StartScreen(AppScreen):
    """Choose, and start; or change who is here, drill and step on the way back to the board.

    ``running`` says that a practice runs. ``asks`` is what the start would like to be told first; it can go
    without. ``asked`` says that it is not clear yet which day it is: nothing starts before the answer.
    ``again`` says that the day has a practice already, ``another`` that a further one is wanted, and
    ``further`` is that one in words, ``further_small`` the same below a title. ``ending`` is the question
    whether the practice is over, empty while it is not asked.
    """

    __events__ = ("on_back", "on_board", "on_end")
    running = BooleanProperty(False)
    heading = StringProperty("")
    here_words = StringProperty("")
    caution = StringProperty("")
    asks = StringProperty("")
    may_ask = StringProperty("")  # its room is kept, so that no key moves when it goes
    asked = BooleanProperty(False)
    again = BooleanProperty(False)
    another = BooleanProperty(False)
    further = StringProperty("")
    further_small = StringProperty("")
    ending = StringProperty("")

    def __init__(self, desk: Desk, today: Callable[[], date] = date.today, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._today = today
        self._on = self._by_clock = None  # the day to start on, and the tablet's when that was settled
        self._here: set = set()
        self._earlier = Earlier()
        self.caution, self.may_ask = tr(CAUTION), named("")
        self._body = {
            False: [self.ids.planned.__self__, self.ids.players.__self__, self.ids.watched.__self__]
        }
        self.drill = self.step = ""
        self._skill = ""  # to be watched by the plan; empty for the first one of the step

    def on_leave(self, *_):
        """Forget a plan that the practice was to go by and did not."""
        self.desk.coming = None

    def on_pre_enter(self, *_):
        """Show the roster again."""
        desk = self.desk
        self.running, self.ending, self._skill = desk.practice is not None, "", ""
        desk.read_plan()
        observer = desk.station.observer if self.running else desk.tablet.observer
        self.ids.observer.text = observer if self.running or observer != NOBODY else ""
        self._by_clock = self._today()
        self._doubt = None
        if not self.running:
            desk.told(self._have_doubts)
        if self._doubt:
            self._ask_which_day(self._doubt)
        else:
            self._settle(desk.practice.held_on if self.running else self._by_clock)

    def _ask_which_day(self, doubt) -> None:
        if True not in self._body:
            from evaltrack.touch.widgets.day_question import DayQuestion

            question = DayQuestion()
            question.bind(on_answer=lambda _, day: self._settle(day))
            self._body[True] = [question]
        self._body[True][0].ask(doubt.question, doubt.likely, self._by_clock, doubt.remark)
        self.heading, self.asked, self.again = tr("Which day is it?"), True, False
        self.here_words = ""
        self._show_body()
        self.ask()

    def _settle(self, on: date) -> None:
        """Show what is known of the day on which the practice is held, and let it start."""
        self._on, self.asked, self.another = on, False, False
        self.heading = tr("Who is here, {day}", day=in_full(on))
        self._earlier = Earlier()
        if not self.running:
            self.desk.told(lambda: self._look_back(on))
        self.again = bool(self._earlier.practices)
        number = nth(len(self._earlier.practices) + 1)
        self.further = tr("A {nth} practice", nth=number)
        self.further_small = tr("a {nth} practice", nth=number)
        self._show_body()
        self._show_day()

    def choose_another(self, another: bool) -> None:
        """Start a further practice of the day, or go on with the one that is there."""
        self.another = another
        self._show_day()

    def _show_day(self) -> None:
        self._here = self._likely_here()
        self._choose_watched(self.desk.station or self._earlier.station)
        self._show_plan()
        self._show_drills()
        self._show_players()
        self.ask()

    def _show_body(self) -> None:
        body, wanted = self.ids.body, self._body[self.asked]
        if body.children != wanted[::-1]:
            body.clear_widgets()
            for part in wanted:
                body.add_widget(part)

    def _look_back(self, on: date) -> None:
        self._earlier = earlier_on(self.desk, on)

    def _have_doubts(self) -> None:
        self._doubt = doubt_about(self.desk, self._by_clock)

    def ask(self, *_) -> None:
        """Ask for what is missing, and say what looks wrong; neither stops a start."""
        self.asks = "" if self.running or self.asked else named(self.ids.observer.text)

    def _likely_here(self) -> set:
        """Return who is here now, or was when today's practice was ended, or may well be."""
        if self.running:
            return {ident for ident, a in self.desk.attendance.items() if a.here}
        if self.desk.coming and self._earlier.here is None:
            return set(self.desk.coming.places) & {player.id for player in self.desk.players}
        if self._earlier.here is not None and not self.another:
            return set(self._earlier.here)
        return {player.id for player in self.desk.likely_present(self._on)} - self._earlier.gone

    def _choose_watched(self, station) -> None:
        """Choose the drill and step that are watched, or the first ones."""
        steps = {(drill.key, step.key) for drill in self.desk.drills for step in drill.steps}
        if station and (station.drill, station.step) in steps:
            self.drill, self.step = station.drill, station.step
        self.drill = self.drill or (self.desk.drills[0].key if self.desk.drills else "")

    def go(self) -> None:
        """Start, or go back to the board with the new word on who is here."""
        if not self.running and self._today() != self._by_clock:
            self.on_pre_enter()
            self.desk.message = tr(
                "by this tablet it is {day} now: look once more, and start",
                day=in_full(self._by_clock),
            )
            return
        if self.asked:
            self.desk.message = tr("say first which day it is")
            return
        present = [p for p in self.desk.players if p.id in self._here]
        if not present:
            self.desk.message = tr("nobody is here yet: tap the players who are")
            return
        if self._go_on(present) if self.running else self._start(present):
            self.dispatch("on_board")

    def _start(self, present: list) -> bool:
        observer = self.ids.observer.text.strip() or NOBODY
        shown = None if self.another else self._earlier.here
        begun = self.desk.begin(self._on, present, self.drill, self.step, observer, self.another, shown)
        return begun and self._watch_planned()

    def _go_on(self, present: list) -> bool:
        at = self.desk.station
        same = (self.drill, self.step) == (at.drill, at.step)
        moved = self.desk.arrange(present) and (same or self.desk.run(self.drill, self.step))
        return moved and self._watch_planned()

    def _watch_planned(self) -> bool:
        """Watch the skill that the plan has for the block, if one was tapped and has one."""
        planned = self._skill if self._skill in self.desk.skills else ""
        return not planned or planned == self.desk.station.skill or self.desk.watch(skill=planned)

    def _show_plan(self) -> None:
        """Show the blocks of the plan, by which the practice goes on or is to start."""
        desk = self.desk
        blocks = self.ids.planned.show(desk.plan or desk.coming, desk.drills, desk.skills)
        if blocks and not self.running:
            self.drill, self.step, self._skill = blocks[0].drill, blocks[0].step, blocks[0].watch

    def choose_block(self, block) -> None:
        """Choose drill, step and skill of a block of the plan; in a practice that runs, go on with it."""
        self.drill, self.step, self._skill = block.drill, block.step, block.watch
        self._show_drills()
        if self.running:
            self.go()

    def _mark_block(self) -> None:
        now = self.desk.station.skill if self.running and not self._skill else self._skill
        self.ids.planned.mark(self.drill, self.step, now)

    def ask_to_end(self) -> None:
        """Ask whether the practice is over, and say what is noted; or take the question back."""
        noted = self.desk.noted(self.desk.practice)
        self.ending = "" if self.ending else tr("End practice? {noted}, all saved.", noted=noted)

    def end(self) -> None:
        """End the practice."""
        if self.desk.end():
            self.dispatch("on_end")

    def _show_players(self) -> None:
        grid = self.ids.players
        grid.clear_widgets()
        for player in self.desk.players:
            switch = TapButton(title=f"{player.number}  {player.name}", title_size="19sp", wraps=True)
            switch.player = player
            switch.bind(on_press=self._toggle)
            self._show_presence(switch)
            grid.add_widget(switch)
        self._count()

    def _toggle(self, switch) -> None:
        self._here ^= {switch.player.id}
        self._show_presence(switch)
        self._count()

    def _show_presence(self, switch) -> None:
        switch.active = switch.player.id in self._here
        status = status_words(switch.player, self._on or self._today())
        switch.small = ", ".join(filter(None, (tr("here") if switch.active else tr("not here"), status)))

    def _count(self) -> None:
        self.here_words = tr("{number} here", number=len(self._here))

    def _show_drills(self) -> None:
        row = self.ids.drills
        row.clear_widgets()
        for drill in self.desk.drills:
            names = ", ".join(step.name for step in drill.steps)
            chip = TapButton(title=drill.name, small=names, active=drill.key == self.drill)
            chip.bind(on_press=lambda _, key=drill.key: self._choose_drill(key))
            row.add_widget(chip)
        self._show_steps()

    def _choose_drill(self, key: str) -> None:
        self.drill, self.step, self._skill = key, "", ""
        self._show_drills()

    def _show_steps(self) -> None:
        row = self.ids.steps
        row.clear_widgets()
        self._mark_block()
        steps = next((d.steps for d in self.desk.drills if d.key == self.drill), ())
        self.step = self.step or (steps[0].key if steps else "")
        for number, step in enumerate(steps, 1):
            chip = TapButton(
                title=step.name, small=tr("step {number}", number=number), active=step.key == self.step
            )
            chip.bind(on_press=lambda _, key=step.key: self._choose_step(key))
            row.add_widget(chip)

    def _choose_step(self, key: str) -> None:
        self.step, self._skill = key, ""
        self._show_steps()
