"""How home leads to the next practice, and the plan to the start of it; each screen comes when asked for."""

from functools import cached_property, partial

_ASKED, _PLAN, _CALENDAR, _WISHES, _START = "next_practice", "plan", "calendar", "wishes", "start"


class PlanScreens:
    """A part of the app."""

    @cached_property
    def plan_in_hand(self):
        """Return the plan that is made and changed, and what is asked of it."""
        from evaltrack.touch.plan.plan_in_hand import PlanInHand

        return PlanInHand(self.desk, self.worker)

    def _make_next_practice(self):
        from evaltrack.touch.plan.asked_screen import AskedScreen

        screen = AskedScreen(name=_ASKED, desk=self.desk, plan=self.plan_in_hand)
        screen.bind(
            on_back=self._from_asked,
            on_plan=partial(self.go, _PLAN),
            on_calendar=partial(self.go, _CALENDAR),
            on_wishes=partial(self.go, _WISHES),
        )
        return screen

    def _make_plan(self):
        from evaltrack.touch.plan.plan_screen import PlanScreen

        screen = PlanScreen(name=_PLAN, desk=self.desk, plan=self.plan_in_hand)
        screen.bind(
            on_back=partial(self.go, "home"), on_ask=partial(self.go, _ASKED), on_start=self._start_planned
        )
        return screen

    def _make_calendar(self):
        from evaltrack.touch.plan.calendar_screen import CalendarScreen

        screen = CalendarScreen(name=_CALENDAR, desk=self.desk, worker=self.worker)
        screen.bind(on_back=partial(self.go, _ASKED), on_file=lambda _: self._ask_for_file("CALENDAR"))
        return screen

    def _make_wishes(self):
        from evaltrack.touch.plan.wishes_screen import WishesScreen

        screen = WishesScreen(name=_WISHES, desk=self.desk, plan=self.plan_in_hand)
        screen.bind(on_back=partial(self.go, _ASKED))
        return screen

    def _to_next_practice(self, *_) -> None:
        """Show the plan that is still to come, or else ask what it is to be."""
        self.plan_in_hand.read()
        self.go(_PLAN if self.plan_in_hand.card else _ASKED)

    def _from_asked(self, *_) -> None:
        self.go(_PLAN if self.plan_in_hand.card else "home")

    def _start_planned(self, *_) -> None:
        """Go by way of who is here: from there the practice starts with the first step of the plan."""
        self.desk.start_from(self.plan_in_hand.card)
        self.go(_START)
