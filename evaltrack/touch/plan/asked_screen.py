"""What the next practice is to be: the day, who comes, minutes, stations, coaches, the ice, the groups."""

from datetime import date, timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.rink.plain_text import capital
from evaltrack.rink.plan import Grouping
from evaltrack.rink.plan_changes import held_players, held_steps
from evaltrack.rink.practice import Surface
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.plan.plan_in_hand import PlanInHand
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Option, keys_for
from evaltrack.words.calendar import ice_words, when_words
from evaltrack.words.plan_card import ICE
from evaltrack.words.plan_wishes import wish_of
from evaltrack.words.status import status_words
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_OFFERED = 4  # ice times
_NEAR = {timedelta(0): mark("Today, {day}"), timedelta(1): mark("Tomorrow, {day}")}
_GROUPINGS = {
    Grouping.NEED: (mark("By need"), mark("each to the station that serves them")),
    Grouping.MIXED: (mark("Mixed"), mark("every level in every group")),
    Grouping.ALIKE: (mark("Alike"), mark("players of like level together")),
}


class AskedScreen(AppScreen):
    """Asks, and has the plan worked out: ``waiting`` while that goes on, ``words`` say why it failed."""

    __events__ = ("on_back", "on_plan", "on_calendar", "on_wishes")
    summary = StringProperty("")
    words = StringProperty("")
    stays = StringProperty("")
    day_words = StringProperty("")
    minutes_words = StringProperty("")
    stations_words = StringProperty("")
    coaches_words = StringProperty("")
    band_words = StringProperty("")
    wishes_words = StringProperty("")
    waiting = BooleanProperty(False)
    has_plan = BooleanProperty(False)

    def __init__(self, desk: Desk, plan: PlanInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._plan = plan

    def on_pre_enter(self, *_):
        """Show what was asked for last."""
        self.words, self.ids.view.scroll_y = "", 1
        if self.desk.season:
            self._plan.read()
            self._show_players()
            self._show()

    def _show(self) -> None:
        wanted, card = self._plan.wanted, self._plan.card
        self.has_plan = card is not None
        locked = card is not None and bool(held_steps(card) or held_players(card))
        self.stays = tr("what is locked stays") if locked else ""
        self.day_words = _day_words(wanted.day)
        self.minutes_words = tr("{minutes} minutes of ice", minutes=wanted.minutes)
        self.stations_words = counted(wanted.stations, "station")
        self.coaches_words = counted(wanted.coaches, "coach", "coaches")
        low, high = (round(10 * end) for end in wanted.band)
        self.band_words = tr("{low} to {high} times in 10", low=low, high=high)
        self.wishes_words = self._wishes()
        self._count()
        self._show_ice_times()
        ice = [(one, (tr(ICE[one]).capitalize(), "")) for one in Surface]
        self._choice(self.ids.ice, "surface", ice)
        groups = [(one, (tr(title), tr(small))) for one, (title, small) in _GROUPINGS.items()]
        self._choice(self.ids.groups, "grouping", groups)

    def _show_ice_times(self) -> None:
        """Offer the next ice times of the calendar; the plan belongs to the one that is chosen."""
        box, wanted = self.ids.ice_times, self._plan.wanted
        box.clear_widgets()
        options = [
            Option(
                capital(when_words(one)),
                ice_words(one),
                partial(self._take_ice, one),
                one.uid == wanted.ice_time,
            )
            for one in self._plan.ice_times()[:_OFFERED]
        ]
        if options:
            box.add_widget(keys_for(options, "290sp"))

    def _take_ice(self, entry) -> None:
        self._plan.take_ice(entry)
        self._show_players()
        self._show()

    def _wishes(self) -> str:
        wishes, shirts = self._plan.wanted.wishes, self._plan.shirts
        return "; ".join(wish_of(wish, shirts) for wish in wishes) or tr("Nothing is wished of two players.")

    def _choice(self, box, name: str, choices: list) -> None:
        now = getattr(self._plan.wanted, name)
        options = [
            Option(title, small, partial(self._choose, name, one), one == now)
            for one, (title, small) in choices
        ]
        box.clear_widgets()
        box.add_widget(keys_for(options, "220dp"))

    def _choose(self, name: str, value) -> None:
        setattr(self._plan.wanted, name, value)
        self._show()

    def change(self, name: str, by: int) -> None:
        """Ask for more or less of something."""
        self._plan.wanted.change(name, by)
        self._show()

    def move_band(self, by: int) -> None:
        """Ask for easier or harder steps."""
        self._plan.wanted.move_band(by)
        self._show()

    def move_day(self, by: int) -> None:
        """Plan for another day."""
        self._plan.move_day(by)
        self._show_players()
        self._show()

    def begin_anew(self) -> None:
        """Forget what is locked."""
        self._plan.put_aside()
        self._show()

    def _show_players(self) -> None:
        grid = self.ids.players
        grid.clear_widgets()
        for player in self.desk.players:
            key = TapButton(title=f"{player.number}  {player.name}", title_size="17sp", wraps=True)
            key.player = player
            key.bind(on_press=self._toggle)
            self._show_presence(key)
            grid.add_widget(key)

    def _toggle(self, key) -> None:
        self._plan.wanted.here ^= {key.player.id}
        self._show_presence(key)
        self._count()

    def _show_presence(self, key) -> None:
        key.active = key.player.id in self._plan.wanted.here
        status = status_words(key.player, self._plan.wanted.day)
        key.small = ", ".join(filter(None, (tr("here") if key.active else tr("not here"), status)))

    def _count(self) -> None:
        here = self._plan.wanted.here & {player.id for player in self.desk.players}
        self.summary = tr_many("{number} player will be here", "{number} players will be here", len(here))

    def work_out(self) -> None:
        """Have the plan worked out, and show it."""
        if not self._plan.wanted.here & {player.id for player in self.desk.players}:
            self.words = tr("Nobody is to be here yet: tap the players who will.")
            return
        self.words, self.waiting = "", True
        self._plan.work_out(self._done, self._failed)

    def _done(self) -> None:
        self.waiting = False
        if self.manager.current == self.name:
            self.dispatch("on_plan")

    def _failed(self, sentence: str) -> None:
        self.waiting = False
        self.words = tr("The plan could not be worked out: {reason}.", reason=sentence)


def _day_words(day: date) -> str:
    near = _NEAR.get(day - date.today())
    return tr(near, day=in_full(day)) if near else capital(in_full(day))
