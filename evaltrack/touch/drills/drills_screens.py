"""How home leads to the drills, to one of them, to a step and to its reps; each comes when asked for."""

from functools import cached_property, partial

_LIST, _DRILL, _STEP, _REPS = "drills", "drill", "step", "reps"


class DrillsScreens:
    """A part of the app."""

    @cached_property
    def drafting(self):
        """Return the drills as they are being changed, which these screens share."""
        from evaltrack.touch.drills.draft.drafting import Drafting

        return Drafting(self.desk)

    def _make_drills(self):
        from evaltrack.touch.drills.drills_screen import DrillsScreen

        screen = DrillsScreen(name=_LIST, desk=self.desk, drafting=self.drafting)
        screen.bind(on_left=partial(self.go, "home"), on_drill=self._to_drill)
        return screen

    def _make_drill(self):
        from evaltrack.touch.drills.drill_screen import DrillScreen

        screen = DrillScreen(name=_DRILL, desk=self.desk, drafting=self.drafting)
        to_list = partial(self.go, _LIST)
        screen.bind(on_left=to_list, on_saved=to_list, on_step=self._to_step)
        return screen

    def _make_step(self):
        from evaltrack.touch.drills.step_screen import StepScreen

        screen = StepScreen(name=_STEP, desk=self.desk, drafting=self.drafting)
        screen.bind(
            on_left=partial(self.go, _DRILL), on_saved=partial(self.go, _LIST), on_watch=self._to_reps
        )
        return screen

    def _make_reps(self):
        from evaltrack.touch.drills.reps_screen import RepsScreen

        screen = RepsScreen(name=_REPS, desk=self.desk)
        screen.bind(on_back=partial(self.go, _STEP))
        return screen

    def _to_drill(self, _, path) -> None:
        self.screen(_DRILL).path = path
        self.go(_DRILL)

    def _to_step(self, _, path) -> None:
        self.screen(_STEP).open(path)
        self.go(_STEP)

    def _to_reps(self, step_screen) -> None:
        self.screen(_REPS).watch(step_screen.step)
        self.go(_REPS)
