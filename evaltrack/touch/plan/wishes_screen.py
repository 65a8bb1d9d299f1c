"""Wishes about groups: what is wished, and two players; each wish stays from plan to plan until it is out."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.plan import WishKind
from evaltrack.rink.plan_card import CardWish
from evaltrack.rink.short_names import short_names
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.plan.plan_in_hand import PlanInHand
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import KeyedLine, Line, Option, keys_for
from evaltrack.words.plan_wishes import wish_of
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_KINDS = {
    WishKind.TOGETHER: (mark("Together"), mark("always in one group")),
    WishKind.APART: (mark("Apart"), mark("never in one group")),
    WishKind.NOT_AGAIN: (mark("Not again"), mark("apart, if together in the plan before")),
}
_FIRST, _SECOND = mark("Tap two players."), mark("Tap the second player, or the same one to let go.")
_FULL = mark("That is as many wishes as groups can follow. Take one out first.")


class WishesScreen(AppScreen):
    """Shows the wishes, and makes one of two players who are tapped. ``words`` say what to tap."""

    __events__ = ("on_back",)
    summary = StringProperty("")
    words = StringProperty("")

    def __init__(self, desk: Desk, plan: PlanInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._plan = plan
        self._kind, self._first = WishKind.TOGETHER, None

    def on_pre_enter(self, *_):
        """Show the wishes of the plan that is asked for."""
        self.ids.view.scroll_y = 1
        self._let_go()
        if self.desk.season:
            self._show_players()
            self._show()

    def _let_go(self) -> None:
        self._first, self.words = None, tr(_FIRST)

    def _show(self) -> None:
        options = [
            Option(tr(title), tr(small), partial(self.take_kind, kind), kind is self._kind)
            for kind, (title, small) in _KINDS.items()
        ]
        self.ids.kinds.clear_widgets()
        self.ids.kinds.add_widget(keys_for(options, "160sp"))
        for key in self.ids.players.children:
            key.active = key.player.id == self._first
        self._show_wishes()

    def _show_players(self) -> None:
        grid, short = self.ids.players, short_names(self.desk.everyone)
        grid.clear_widgets()
        for player in self.desk.players:
            key = TapButton(title=f"{player.number} {short[player.id]}", title_size="17sp")
            key.player = player
            key.bind(on_press=lambda key: self.take(key.player.id))
            grid.add_widget(key)

    def _show_wishes(self) -> None:
        wishes, box = self._plan.wanted.wishes, self.ids.wishes
        self.summary = tr("{wishes}, kept from plan to plan", wishes=counted(len(wishes), "wish", "wishes"))
        box.clear_widgets()
        for wish in reversed(wishes):  # the last one is in sight
            line = KeyedLine(words=wish_of(wish, self._plan.shirts), title=tr("Take out"))
            line.bind(on_turn=lambda _, one=wish: self.take_out(one))
            box.add_widget(line)
        if not wishes:
            box.add_widget(Line(text=tr("Nothing is wished yet."), soft=True))

    def take_kind(self, kind: WishKind) -> None:
        """Wish something else of the next two."""
        self._kind = kind
        self._show()

    def take(self, player) -> None:
        """Take the first player, or make a wish of them and this one."""
        if self._first is None:
            self._first, self.words = player, tr(_SECOND)
        elif self._first == player:
            self._let_go()
        else:
            wish = CardWish(self._kind, self._first, player)
            self._let_go()
            if not self._plan.wish(wish):
                self.words = tr(_FULL)
        self._show()

    def take_out(self, wish: CardWish) -> None:
        """Wish that no more."""
        self._plan.wish_no_more(wish)
        self._let_go()
        self._show()
