"""The coach's own card for one meeting, on screen: what to say and to ask, and the numbers behind it."""

from pathlib import Path
from uuid import UUID

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.player import Player
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.meetings.meetings_in_hand import MeetingsInHand
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line
from evaltrack.words.family.drafting import read_ground
from evaltrack.words.family.in_force import Pages, read_pages
from evaltrack.words.meeting_cards import CueCard, cue_card
from evaltrack.words.meetings import COACHES_ONLY, GUIDANCE, slot_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_SAY = (
    (mark("Say first: what goes well"), "say"),
    (mark("Then: one or two next steps"), "next_steps"),
    (mark("To try at home"), "at_home"),
    (mark("Agreed last time"), "agreed"),
)


class CueScreen(AppScreen):
    """``player`` says whose card it is; ``review`` has the standings, which come when they are worked out.

    ``on_charts`` brings the number of the player whose charts are wanted, ``on_page`` the id of the one whose
    family's page is wanted, on which stands what is agreed.
    """

    __events__ = ("on_back", "on_charts", "on_page")
    player = ObjectProperty(None, allownone=True)
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    before = StringProperty("")
    after = StringProperty("")
    came = BooleanProperty(False)

    def __init__(self, desk: Desk, review, meetings: MeetingsInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.review, self._meetings = review, meetings
        self._ground, self._pages = None, Pages()
        self._later = Clock.create_trigger(self._fill, -1)
        self.bind(player=self._later, landscape=self._later)

    def on_pre_enter(self, *_):
        """Read what the cards share, and show newer standings as they come."""
        self.words, self._ground, self._pages = "", None, Pages()
        if self.desk.season:
            self._meetings.read()
            self.desk.told(self._read_ground)
            self.review.show(self._later)

    def _read_ground(self) -> None:
        self._ground = read_ground(self.desk.season)
        evening = self._meetings.evening
        self._pages = read_pages(self.desk.season, self._ground, evening and evening.day)

    def on_leave(self, *_):
        """Draw nothing while another screen is shown."""
        self.review.hide(self._later)

    def step(self, by: int) -> None:
        """Go to the next meeting, or with -1 to the one before."""
        neighbour = self._neighbour(by)
        if neighbour is not None:
            self.ids.view.scroll_y = 1
            self.player = neighbour

    def tick(self) -> None:
        """Note that the family came, or that it did not."""
        if self._meetings.tick(self.player):
            self.came = self.player in self._meetings.came

    def to_charts(self) -> None:
        """Ask for the charts of the player."""
        self.dispatch("on_charts", self.desk.player(self.player).number)

    def to_page(self) -> None:
        """Ask for the family's page, to note there what is agreed."""
        self.dispatch("on_page", self.player)

    def _neighbour(self, by: int) -> UUID | None:
        ordered = [player for player, _ in self._meetings.evening.in_order()]
        place = ordered.index(self.player) + by
        return ordered[place] if 0 <= place < len(ordered) else None

    def _named(self, by: int) -> str:
        neighbour = self._neighbour(by)
        return self.desk.player(neighbour).number if neighbour is not None else ""

    def _fill(self, *_) -> None:
        evening = self._meetings.evening
        if self.desk.season is None or evening is None or self.player not in evening.slots:
            return
        player = self.desk.player(self.player)
        self.heading = f"{player.number}  {player.name}"
        self.summary = f"{slot_words(evening, evening.slots[self.player])}; {player.position_words}"
        self.before, self.after = self._named(-1), self._named(1)
        self.came, self.words = self.player in self._meetings.came, self.review.words
        self._show(self._card(player))

    def _card(self, player: Player) -> CueCard:
        edits, agreed = self._pages.edits.get(player.id), self._pages.agreed.get(player.id, ())
        return cue_card(self._ground, player, self.review.of(player.number), edits, agreed)

    def _show(self, card: CueCard) -> None:
        say, behind = self.ids.say, self.ids.behind
        say.clear_widgets()
        behind.clear_widgets()
        say.add_widget(Line(text=tr(COACHES_ONLY), soft=True))
        for heading, name in _SAY:
            self._part(say, tr(heading), getattr(card, name))
        self._part(behind, tr("Ask"), card.ask)
        numbers = []
        for one in card.numbers:
            head = tr("{skill}: {count}", skill=one.skill, count=one.count)
            call = f" ({one.call})" if one.call else ""
            numbers.append(f"{head}{call}\n      {one.state}")
        self._part(behind, tr("The numbers behind it"), numbers)
        self._part(say, tr("At every meeting"), map(tr, GUIDANCE), soft=True)

    def _part(self, column, heading: str, sentences, soft: bool = False) -> None:
        if sentences := list(sentences):
            column.add_widget(Heading(text=heading))
            column.add_widget(Line(text="\n".join(f"·  {one}" for one in sentences), soft=soft))
