"""The part of the app that helps: a key on every screen, its page over it, and hints for newcomers."""

from functools import partial

from evaltrack.language import mark, tr

# what somebody who knows a screen has done on it: the event that says so, by the screen's name
FIRST_ACTS = {
    "start": "on_board",
    "team": "on_player",
    "players": "on_player",
    "practices": "on_practice",
}
_LATCHED = mark("This tablet is latched: print the guide from the help of Set-up, which asks for the code.")
_BOARD, _LOOKED_AT = "board", 200  # its last tallies say which outcomes somebody has tapped


class HelpScreens:
    """A part of the app. What a page is made of is imported where somebody asks for one."""

    def on_start(self) -> None:
        """Put the key on every screen, now and when another one is made."""
        super().on_start()
        self._helped: set[str] = set()
        self.screens.bind(screens=self._help_with)
        self._help_with()

    def _help_with(self, *_) -> None:
        from evaltrack.touch.help.help_key import HelpKey

        for screen in self.screens.screens:
            if screen.name not in self._helped:
                self._helped.add(screen.name)
                key = HelpKey(screen)
                screen.bind(on_help=self._open_help, on_leave=self._close_help)
                if screen.name == _BOARD:
                    screen.bind(on_pre_leave=self._learn_outcomes)
                if screen.name in FIRST_ACTS and screen.name not in self.desk.tablet.acts:
                    self._hint_at(screen, key.bar)

    def _open_help(self, screen) -> None:
        from evaltrack.touch.help.help_sheet import HelpSheet
        from evaltrack.words.help_pages import help_pages

        page = help_pages().get(screen.help_page or screen.name)
        if page and not screen.cover:
            sheet = HelpSheet(page, self._focus)
            sheet.bind(on_back=lambda _: self._close_help(screen), on_guide=self._print_guide)
            sheet.lie_over(screen)

    def _close_help(self, screen) -> None:
        if screen.cover:
            screen.cover.go_off(screen)

    def _print_guide(self, sheet, paper: str) -> None:
        from evaltrack.device.season_places import guides_folder
        from evaltrack.touch.worker.tasks import write_guide

        def tell(sentence: str) -> None:
            sheet.told = sentence

        if self.needs_code():
            tell(tr(_LATCHED))
            return
        tell(tr("The guide is being made ..."))
        path = self.desk.season.path if self.desk.season else None
        self.worker.ask(partial(write_guide, path, guides_folder(), paper), tell, tell)

    def _hint_at(self, screen, bar) -> None:
        from evaltrack.touch.help.first_hint import FirstHint, put_below
        from evaltrack.words.help_pages import help_pages

        hint = FirstHint()
        put_below(bar, hint)

        def fit(*_) -> None:
            hint.text = help_pages()[screen.help_page or screen.name].hint

        def look(*_) -> None:
            # only when one comes in: what stands below it must not move under a finger
            hint.shown = screen.takes_hint and screen.name not in self.desk.tablet.acts

        fit()
        screen.bind(on_pre_enter=look, takes_hint=look, help_page=fit)
        screen.bind(**{FIRST_ACTS[screen.name]: lambda *_: self._learn(screen.name)})

    def _learn_outcomes(self, *_) -> None:
        # not at a tap: nothing on the way from a finger to the disk waits for the settings
        self._learn(*{str(tally.outcome) for tally in self.desk.last(_LOOKED_AT)})

    def _learn(self, *acts: str) -> None:
        known = self.desk.tablet.acts
        if new := sorted(set(acts) - set(known)):
            self.desk.keep(known_acts=" ".join((*known, *new)))
