"""The plan as a coach's card: blocks with times, groups, whom to watch, why; it is changed by touch."""

from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.plain_text import capital
from evaltrack.rink.plan_card import PlanCard
from evaltrack.rink.plan_changes import held, lengthened, locked, moved, swapped
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.plan.card_parts import CardParts, Chosen
from evaltrack.touch.plan.plan_in_hand import PlanInHand
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Line
from evaltrack.words.plan_card import summary_words
from evaltrack.words.wording import clock_time

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NONE = mark("There is no plan yet. Change says who will be here; then it is worked out.")
_HINT = mark("Tap a block to read why it is here. Tap a player, then a group, to move them.")
_STUCK = mark("No other block can make up for that: unlock one first.")
_LEAST = mark("A block has one minute at least.")


class PlanScreen(AppScreen):
    """Shows the plan in hand. ``words`` say what to do next, or what became of a print."""

    __events__ = ("on_back", "on_ask", "on_start")
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    hint = StringProperty("")  # always there, so that nothing moves under a finger when words come
    paper = StringProperty("letter")
    printing = BooleanProperty(False)
    has_plan = BooleanProperty(False)

    def __init__(self, desk: Desk, plan: PlanInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._plan = plan
        self._chosen = Chosen()
        self.bind(landscape=lambda *_: self.desk.season and self._show())

    def on_pre_enter(self, *_):
        """Read the plan again."""
        self.words, self.hint, self._chosen, self.ids.view.scroll_y = "", tr(_HINT), Chosen(), 1
        if self.desk.season:
            self._plan.read()
            self._show()

    def _show(self) -> None:
        card = self._plan.card
        self.has_plan = card is not None
        blocks, groups = self.ids.blocks, self.ids.groups
        for column in (blocks, groups):
            column.clear_widgets()
        if card is None:
            self.heading, self.summary = tr("Next practice"), ""
            blocks.add_widget(Line(text=tr(_NONE)))
            return
        ice = self._plan.ice_time()
        day = capital(in_full(card.day)).rpartition(" ")[0]  # the year is known
        begins = ice and ice.start
        self.heading = tr("{day}, {time}", day=day, time=clock_time(begins)) if begins else day
        self.summary = summary_words(card, ice.place if ice else "")
        parts = CardParts(card, self.desk, self._plan.names, self._chosen, self)
        wide = self.landscape  # the reasons stand under the shorter column, or at the end of the only one
        for column, mine in ((blocks, wide), (groups, not wide)):
            made = parts.blocks() if column is blocks else parts.groups()
            for part in [*made, *(parts.reasons() if mine else ())]:
                column.add_widget(part)

    def _change(self, card: PlanCard) -> None:
        self.words, self._chosen = "", self._taken()
        self._plan.change(card)
        self._show()

    def _taken(self, **what) -> Chosen:
        """Return what waits for a second tap; the reason that is open stays, so that nothing moves."""
        return Chosen(reason=self._chosen.reason, **what)

    def show_reason(self, at: int) -> None:
        """Show why a block is in the plan, or put the reason away."""
        self._chosen = Chosen(reason=None if self._chosen.reason == at else at)
        self._show()

    def change_minutes(self, at: int, by: int) -> None:
        """Give a block a minute more or less; another one makes up for it."""
        before = self._plan.card
        after = lengthened(before, at, by)
        self._change(after)
        if after is before:
            self.words = tr(_STUCK if before.blocks[at].minutes + by >= 1 else _LEAST)

    def swap(self, at: int) -> None:
        """Take a block to be swapped, or swap it with the one that was taken before."""
        first = self._chosen.swapping
        if first is None:
            self._chosen, self.words = self._taken(swapping=at), tr("Tap Swap on the other block.")
            self._show()
        elif first == at:
            self._change(self._plan.card)
        else:
            self._change(swapped(self._plan.card, first, at))

    def lock(self, at: int) -> None:
        """Lock a block, or let it go again."""
        self._change(locked(self._plan.card, at))

    def choose(self, player: UUID) -> None:
        """Take a player to be moved, or let them go again."""
        if self._chosen.player == player:
            self._change(self._plan.card)
            return
        self._chosen = self._taken(player=player)
        self.words = tr("Tap the group; their own locks them in it.")
        self._show()

    def move(self, station: int) -> None:
        """Move the player who was taken to a group; in their own they are locked, or let go."""
        player, card = self._chosen.player, self._plan.card
        if player is None:
            self.words = tr("Tap a player first, then the group.")
        elif card.places[player].station == station:
            self._change(held(card, player))
        else:
            self._change(moved(card, player, station))

    def turn_paper(self) -> None:
        """Take the other paper."""
        self.paper = "letter" if self.paper == "a4" else "a4"

    def print_out(self) -> None:
        """Print the plan beside the season file: one page to hang up, and one for the observer."""
        self.printing, self.words = True, tr("The plan is being printed …")
        self._plan.print_out(self.paper, self._printed)

    def _printed(self, sentence: str) -> None:
        self.printing, self.words = False, sentence
