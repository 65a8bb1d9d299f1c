"""Who is here, which drill, which step: before a practice, and during it for late and hurt players."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.screenmanager import Screen

from evaltrack.touch.theme import Press

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

CAUTION = (
    "Stay behind the glass. Stop tallying a player who was knocked: recognise, remove, and leave the rest "
    "to licensed medical advice. Contact skills follow your governing body's age rules."
)


class StartScreen(Screen):
    """``running`` says that a practice runs, and that only who is here can be changed."""

    __events__ = ("on_back", "on_board", "on_end")
    desk = ObjectProperty(None)
    running = BooleanProperty(False)
    heading = StringProperty("")
    here_words = StringProperty("")
    caution = StringProperty(CAUTION)

    def __init__(self, desk, today: Callable[[], date] = date.today, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._today = today
        self._here: set = set()
        self.drill = self.step = ""

    def on_pre_enter(self, *_):
        """Show the roster afresh."""
        desk = self.desk
        self.running = desk.practice is not None
        on = desk.practice.held_on if self.running else self._today()
        self.ids.observer.text = desk.station.observer if self.running else desk.tablet.observer
        self.heading = f"Who is here, {on.day} {on:%b}"
        if self.running:
            self._here = {ident for ident, a in desk.attendance.items() if a.here}
        else:
            self._here = {player.id for player in desk.likely_present()}
            self.drill = self.drill or (desk.drills[0].key if desk.drills else "")
            self._show_drills()
        self._show_players()

    def go(self) -> None:
        """Start, or go back to the board with the new word on who is here."""
        present = [p for p in self.desk.players if p.id in self._here]
        if not present:
            self.desk.message = "nobody is here yet: tap the players who are"
            return
        observer = self.ids.observer.text.strip() or "Bench"
        if self.running:
            done = self.desk.arrange(present)
        else:
            done = self.desk.begin(self._today(), present, self.drill, self.step, observer)
        if done:
            self.dispatch("on_board")

    def end(self) -> None:
        """End the practice."""
        if self.desk.end():
            self.dispatch("on_end")

    def on_back(self) -> None:
        """Do nothing: the app listens."""

    def on_board(self) -> None:
        """Do nothing: the app listens."""

    def on_end(self) -> None:
        """Do nothing: the app listens."""

    def _show_players(self) -> None:
        grid = self.ids.players
        grid.clear_widgets()
        for player in self.desk.players:
            switch = Press(title=f"{player.number}  {player.name}", title_size="19sp", wraps=True)
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
        status = "" if switch.player.status == "full" else f", {switch.player.status}"
        switch.small = ("here" if switch.active else "not here") + status

    def _count(self) -> None:
        self.here_words = f"{len(self._here)} here"

    def _show_drills(self) -> None:
        row = self.ids.drills
        row.clear_widgets()
        for drill in self.desk.drills:
            names = ", ".join(step.name for step in drill.steps)
            chip = Press(title=drill.name, small=names, active=drill.key == self.drill)
            chip.bind(on_press=lambda _, key=drill.key: self._choose_drill(key))
            row.add_widget(chip)
        self._show_steps()

    def _choose_drill(self, key: str) -> None:
        self.drill, self.step = key, ""
        self._show_drills()

    def _show_steps(self) -> None:
        row = self.ids.steps
        row.clear_widgets()
        steps = next((d.steps for d in self.desk.drills if d.key == self.drill), ())
        self.step = self.step or (steps[0].key if steps else "")
        for number, step in enumerate(steps, 1):
            chip = Press(title=step.name, small=f"step {number}", active=step.key == self.step)
            chip.bind(on_press=lambda _, key=step.key: self._choose_step(key))
            row.add_widget(chip)

    def _choose_step(self, key: str) -> None:
        self.step = key
        self._show_steps()
