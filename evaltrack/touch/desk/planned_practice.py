"""The plan that the running practice goes by, if any. No start waits for it: it is read on demand."""

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date
from uuid import UUID

from kivy.properties import ObjectProperty

from evaltrack.errors import EvaltrackError
from evaltrack.rink.player import Player
from evaltrack.touch.desk.practice_in_hand import PracticeInHand


class PlannedPractice(PracticeInHand):
    """A practice that may go by a plan.

    ``plan`` is the `PlanCard` of the practice that runs, None without one or before `read_plan`. ``coming``
    is the plan by which the next practice starts, None unless somebody has just asked for that.
    """

    plan = ObjectProperty(None, allownone=True)
    coming = ObjectProperty(None, allownone=True)

    def __init__(self, *given, **kwargs):
        super().__init__(*given, **kwargs)
        self._plan_of = ""  # the key of the practice of which the plan was read
        self.bind(practice=self._forget_plan)

    def start_from(self, card) -> None:
        """Let the next practice go by a plan; or the one that runs, from now on."""
        if self.practice:
            self._go_by(card)
        else:
            self.coming = card

    def begin(
        self,
        on: date,
        present: Iterable[Player],
        drill: str,
        step: str,
        observer: str,
        another: bool = False,
        shown: Iterable[UUID] | None = None,
    ) -> bool:
        """Start the practice of a day as `PracticeInHand.begin` does; it goes by the plan that is coming."""
        began = super().begin(on, present, drill, step, observer, another, shown)
        if began and self.coming and self.practice:
            self._go_by(self.coming)
        return began

    def read_plan(self) -> None:
        """Read the plan of the practice that runs, unless that is done.

        A failure is told only where nothing else is: a tap that was not saved matters more.
        """
        practice = self.practice
        if practice is None or self._plan_of == practice.key:
            return
        try:
            found = self.season.plans.of_practice(practice.key)
        except EvaltrackError as error:
            self.message = self.message or str(error)
            return
        self._plan_of, self.plan = practice.key, found

    def plan_changed(self, card) -> None:
        """Take up what became of a plan, where the practice that runs goes by it."""
        if self.practice and card.practice == self.practice.key:
            self._plan_of, self.plan = card.practice, card

    def look_first(self, skill: str) -> Collection[UUID]:
        """Return whom to look at first while a skill is watched in the step that is watched."""
        if self.plan is None or self.station is None:
            return ()
        return self.plan.looks_at(self.station.drill, self.station.step, skill)

    def _go_by(self, card) -> None:
        card = replace(card, practice=self.practice.key)
        if self.save(lambda: self.season.plans.add(card, self.tablet.id, self.now())):
            self.coming = None
            self.plan_changed(card)

    def _forget_plan(self, *_) -> None:
        key = self.practice.key if self.practice else ""
        if key != self._plan_of:
            self._plan_of, self.plan = "", None
