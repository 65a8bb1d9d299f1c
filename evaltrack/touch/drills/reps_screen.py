"""Six reps of a step, one after the other: who stands in which slot, and who goes where."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import NumericProperty, StringProperty

from evaltrack.language import tr
from evaltrack.rink.drill import Step
from evaltrack.rink.ice_plan.plan_geometry import plan_of
from evaltrack.rink.player import likely_present
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.short_names import short_names
from evaltrack.touch.drills.plan.rink_plan import Disc, RinkPlan  # noqa: F401  the kv rule names the plan
from evaltrack.touch.drills.watched_reps import (
    REPS,
    in_their_lines,
    six_reps,
    slot_line,
    stand_ins,
    waiting_line,
)
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class RepsScreen(AppScreen):
    """Shows rep number ``rep`` of a step with those of the roster who are not away. Nothing is noted."""

    __events__ = ("on_back",)
    heading = StringProperty("")
    summary = StringProperty("")
    rep = NumericProperty(1)
    last = NumericProperty(REPS)

    def watch(self, step: Step) -> None:
        """Begin with the first rep of a step."""
        roster = in_their_lines(step, likely_present(self.desk.players))
        self._invented = stand_ins(step, roster)
        self._players = [*roster, *self._invented]
        self._reps = six_reps(step, self._players)
        self.heading, self.rep = tr("Six reps of {step}", step=step.name.strip()), 1
        self.ids.plan.step, self.ids.plan.plan = step, plan_of(step)
        self._show()

    def turn(self, by: int) -> None:
        """Go to the next rep, or back to the one before."""
        self.rep = min(REPS, max(1, self.rep + by))
        self._show()

    def _show(self) -> None:
        rotation = self._reps[self.rep - 1]
        self.summary = tr("Rep {rep} of {reps}; nothing of it is noted", rep=self.rep, reps=REPS)
        self._draw(rotation)
        body = self.ids.body
        body.clear_widgets()
        self.ids.view.scroll_y = 1
        for part in self._parts(rotation):
            body.add_widget(part)

    def _draw(self, rotation: Rotation) -> None:
        names, numbers = short_names(self._players), {player.id: player.number for player in self._players}
        before = set(self._reps[self.rep - 2].slots.values()) if self.rep > 1 else set()
        self.ids.plan.discs = {
            slot.key: Disc(numbers[ident], f"{names[ident]}, {slot.name.strip()}", ident not in before)
            if (ident := rotation.slots.get(slot.key))
            else Disc("–", slot.name.strip(), empty=True)
            for slot in rotation.step.slots
        }

    def _parts(self, rotation: Rotation) -> list:
        names = short_names(self._players)
        full = {player.id: f"#{player.number} {names[player.id]}" for player in self._players}
        short = {player.id: f"#{player.number}" for player in self._players}
        lines = [slot_line(slot, rotation, full) for slot in rotation.step.slots]
        parts = [
            Heading(text=tr("Rep {rep} of {reps}", rep=self.rep, reps=REPS)),
            Line(text="\n".join(lines)),
            Line(text=waiting_line(rotation, short), soft=True),
            Line(text=tr("Filled discs have just come in from their line."), soft=True),
        ]
        if self._invented:
            invented = ", ".join(full[player.id] for player in self._invented)
            parts.append(
                Line(
                    text=tr(
                        "The roster has too few; invented players stand in: {invented}.", invented=invented
                    ),
                    soft=True,
                )
            )
        return parts
