"""The first screen off the ice: start a practice, or look at the team."""

from functools import partial
from itertools import groupby
from pathlib import Path

from kivy.lang import Builder
from kivy.metrics import dp, sp
from kivy.properties import AliasProperty, BooleanProperty, StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import in_full, nth
from evaltrack.rink.plain_text import capital, one_line
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally_sum import TallySum, total
from evaltrack.touch.desk.reminded import reminder_of
from evaltrack.touch.practice.left_open import question_about
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.sums import sum_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_REFUSED = mark("When that is put right, open it again here. Other seasons are not touched by it.")
_PRIVACY = mark(
    "This tablet holds children's data: number, name, position, tallies. Lock it when you "
    "put it down. When the season is over, close it: Set-up, Season’s end."
)


_LAST = 5  # practices in the list
# sp: the least height of all keys in columns, and the least width of a row of them
_UPRIGHT, _ROW = 1110, 700
_LISTED = 56  # sp, of one practice in the list
_SPARED = 66  # sp, of the counts and of the heading of the list, where there is no room for them


class HomeScreen(AppScreen):
    """What there is to do with the season in hand.

    ``needs_code`` says that all but the boards needs the code, ``can_lock`` that it was given, and may be
    asked for again. ``question`` is about a practice that nobody has ended; until it is answered no
    other one starts. It is laid out as in landscape, too, where an upright column of keys has no room and a
    row has; it is ``tight`` where keys and questions take the room of the counts. What is
    due ``reminds`` once nothing is asked. ``on_held`` brings the key of a practice that is to be looked at.
    """

    __events__ = (
        "on_practice",
        "on_team",
        "on_plan",
        "on_meetings",
        "on_practices",
        "on_notes",
        "on_held",
        "on_players",
        "on_skills",
        "on_drills",
        "on_season",
        "on_handover",
        "on_palette",
        "on_setup",
        "on_seasons",
        "on_season_end",
        "on_lock",
    )
    landscape = AliasProperty(
        lambda self: self.width > self.height or (self.height < sp(_UPRIGHT) and self.width >= sp(_ROW)),
        bind=("size",),
        cache=True,
    )
    tight = BooleanProperty(False)
    lower = AliasProperty(  # pixels by which the large keys are lower then
        lambda self: dp(16 if self.landscape else 144) if self.tight else 0, bind=("tight", "landscape")
    )
    reminds = AliasProperty(
        lambda self: bool(self.reminder) and not self.question, bind=("reminder", "question")
    )
    heading = StringProperty("evaltrack")
    summary = StringProperty("")
    first = StringProperty("")
    practice_words = StringProperty("")
    question = StringProperty("")
    hint = StringProperty("")
    reminder = StringProperty("")
    running = BooleanProperty(False)
    has_season = BooleanProperty(False)
    refused = BooleanProperty(False)
    has_practices = BooleanProperty(False)
    dark = BooleanProperty(False)
    needs_code = BooleanProperty(False)
    can_lock = BooleanProperty(False)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._going_on = self.ids.going_on.__self__
        self.ids.choices.remove_widget(self._going_on)
        self.ids.content.bind(minimum_height=self._fit, height=self._fit)

    def _fit(self, content, _) -> None:
        between = dp(8) * (len(content.children) + 1)
        needed = content.minimum_height + (sp(_SPARED) + self.lower + between if self.tight else 0)
        self.tight = needed + (sp(_LISTED) if self.has_practices else 0) > content.height + 1

    def on_pre_enter(self, *_):
        """Count again, and say what there is to do."""
        desk = self.desk
        self.dark = desk.tablet.dark
        self.has_season = desk.season is not None
        self.refused = not self.has_season and desk.refused is not None
        self.question = question_about(desk) if self.has_season else ""
        self._offer_to_go_on()
        self.reminder = reminder_of(desk)
        if not self.has_season:
            self.hint, self.first = tr(_REFUSED), tr("Open it again")
            self.practice_words = one_line(desk.refused.name) if self.refused else ""
            return
        self.running = desk.practice is not None
        self.heading, self.summary, self.has_practices = one_line(desk.season.path.stem), "", False
        desk.told(self._count)
        self.hint = tr(_PRIVACY)
        self._name_the_first()

    def _count(self) -> None:
        desk = self.desk
        practices, sums = desk.season.practices.all(), desk.season.tally_sums.by_practice()
        last = _numbered(practices)[: -_LAST - 1 : -1]
        there = desk.season.turnout.there(*(one.key for one, _ in last)) if last else {}
        self.heading = str(desk.season.team)
        self.has_practices = bool(practices)
        counting = total(sums.get(practice.key, TallySum()) for practice in practices)
        known = _players(len(desk.players)), _practices(len(practices)), sum_words(counting)
        self.summary = ", ".join(known)
        self._list_practices(last, sums, {key: len(players) for key, players in there.items()})

    def _name_the_first(self) -> None:
        if self.question:
            self.first, self.practice_words = tr("It is over"), tr("all is saved")
        elif self.running:
            self.first, self.practice_words = tr("Go on with the practice"), tr("back to the board")
        else:
            self.first, self.practice_words = tr("Start a practice"), tr("who is here, which drill")

    def _offer_to_go_on(self) -> None:
        if bool(self.question) != bool(self._going_on.parent):
            if self.question:
                self.ids.choices.add_widget(self._going_on, index=len(self.ids.choices.children) - 1)
            else:
                self.ids.choices.remove_widget(self._going_on)

    def go_on(self) -> None:
        """Go on with the practice that nobody has ended."""
        self.desk.go_on()
        self.dispatch("on_practice")

    def practise(self) -> None:
        """Start a practice or go on with it; first, do away with what is in the way."""
        if self.question:
            if self.desk.end_left_open():
                self.on_pre_enter()
        elif not self.refused:
            self.dispatch("on_practice")
        elif self.desk.open(self.desk.refused):
            theme.use(self.desk.tablet.dark)
            self.on_pre_enter()
            if self.running:
                self.dispatch("on_practice")

    def _list_practices(self, practices, sums: dict[str, TallySum], here: dict[str, int]) -> None:
        rows = self.ids.practices
        rows.clear_widgets()
        for practice, number in practices:
            day = capital(in_full(practice.held_on))
            if number > 1:
                day = tr("{day}, {nth} practice", day=day, nth=nth(number))
            of_it, players = sums.get(practice.key, TallySum()), here.get(practice.key, 0)
            row = ListRow(title=day, small=f"{_players(players)}, {sum_words(of_it)}")
            row.bind(on_press=partial(self._lead_to, practice.key))
            rows.add_widget(row)

    def _lead_to(self, key: str, *_) -> None:
        self.dispatch("on_held", key)


def _numbered(practices: list[Practice]) -> list[tuple[Practice, int]]:
    """Return each practice with its number among those of its day."""
    by_day = groupby(practices, lambda practice: practice.held_on)
    return [(practice, number) for _, own in by_day for number, practice in enumerate(own, 1)]


# not by ``words.wording``, which brings what the first screen can do without
def _players(count: int) -> str:
    return tr_many("{number} player", "{number} players", count)


def _practices(count: int) -> str:
    return tr_many("{number} practice", "{number} practices", count)
