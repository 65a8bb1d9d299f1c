"""One player: a chart for each skill in which they were seen, and the way to the page for their family."""

from collections.abc import Sequence
from functools import partial
from itertools import repeat
from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.device.season_places import pictures_folder
from evaltrack.language import tr, tr_many
from evaltrack.paper.pictures import Charts
from evaltrack.rink.player import Player, Status
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review.review import Review
from evaltrack.touch.review.trend_chart import TrendChart
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.trend_geometry import grid
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.date_axis import axis_of
from evaltrack.words.legends import charts_legend
from evaltrack.words.opponents import met_words
from evaltrack.words.reasons import reason_heading, reason_sentences, step_names, to_go_words
from evaltrack.words.recency import recency_words
from evaltrack.words.roster import STATUS_WORDS
from evaltrack.words.sums import sum_words
from evaltrack.words.wording import direction_words, is_firm

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_LEAST, _MOST = 190, 300  # sp, the height of a chart


class PlayerScreen(AppScreen):
    """``number`` says whose page it is. ``told`` is what became of pictures, or how to read the charts.

    ``comment`` is what the staff wrote of the player.
    ``asked`` is the key of the skill whose chart was tapped, and ``why`` what moved its share.
    """

    __events__ = ("on_back", "on_note")
    number = StringProperty("")
    heading = StringProperty("")
    summary = StringProperty("")
    before = StringProperty("")
    after = StringProperty("")
    empty = StringProperty("")
    told = StringProperty("")
    asked = StringProperty("")
    why = StringProperty("")
    comment = StringProperty("")
    writing = BooleanProperty(False)
    columns = NumericProperty(3)

    def __init__(self, desk: Desk, review: Review, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.review, self._worker = review, worker
        self._later = Clock.create_trigger(self._fill, -1)
        self._arrange_later = Clock.create_trigger(self._arrange, -1)
        self._draw_next = Clock.create_trigger(self._draw_one, 0)
        self._shown: tuple = ()  # whose charts are there, of which skills
        self._drawn_later: list = []
        self._legend = ""
        self.ids.view.bind(size=self._arrange_later)

    def on_pre_enter(self, *_):
        """Show the standings at hand, and newer ones as they come."""
        self.review.show(self._later)

    def on_leave(self, *_):
        """Draw nothing while another screen is shown."""
        self.review.hide(self._later)

    def on_number(self, *_):
        """Show another player."""
        self.told = self._legend = self.asked = ""
        self.ids.view.scroll_y = 1
        self._later()

    def step(self, by: int) -> None:
        """Go to the next player by number, or with -1 to the one before."""
        neighbour = self._neighbour(by)
        if neighbour:
            self.number = neighbour.number

    def ask(self, skill: str) -> None:
        """Say what moved the share of a skill, and with the same skill again leave it."""
        self.asked = "" if skill == self.asked else skill
        self._tell_why()
        self._bring_in_view()

    def show_note(self) -> None:
        """Ask for the page for this player's family."""
        if player := self._player():
            self.dispatch("on_note", player.id)

    def save_pictures(self, form: str) -> None:
        """Have this player's charts drawn beside the app as pictures, and say where they are."""
        player = self._player()
        if self.writing or player is None:
            return
        self.writing, self.told = True, tr("Drawing …")
        charts = Charts(player, self.review.of(player.number), axis_of(self.review.standings))
        names = {key: skill.name for key, skill in self.desk.skills.items()}
        folder = pictures_folder(self.desk.season.path)
        self._worker.ask(
            partial(tasks.save_player_pictures, folder, charts, names, form),
            self._say,
            lambda sentence: self._say(tr("No picture was saved: {reason}.", reason=sentence)),
        )

    def _say(self, sentence: str) -> None:
        self.writing = False
        self.told = sentence

    def _player(self) -> Player | None:
        return next((p for p in self.desk.players if p.number == self.number), None)

    def _neighbour(self, by: int) -> Player | None:
        numbers = [player.number for player in self.desk.players]
        if self.number not in numbers:
            return None
        place = numbers.index(self.number) + by
        return self.desk.players[place] if 0 <= place < len(numbers) else None

    def _fill(self, *_) -> None:
        player, standings = self._player(), self.review.of(self.number)
        self.heading = f"{player.number}  {player.name}" if player else ""
        self.summary = self.review.words or (self._summary(player, standings) if player else "")
        self._fill_comment(player)
        self.before, self.after = (_named(self._neighbour(by)) for by in (-1, 1))
        self.empty = "" if standings else self.review.words or tr("No tallies of this player yet.")
        drawn = [one for one in standings if one.skill in self.desk.skills]
        self._fill_charts(drawn)
        self._fill_legend(charts_legend(drawn))
        self._tell_why()
        self._arrange()

    def _summary(self, player: Player, standings: Sequence[Standing]) -> str:
        days, found = {seen.on for one in standings for seen in one.seen}, []
        self.desk.told(lambda: found.append(self.desk.season.tally_sums.of_season(player.id)))
        words = [
            player.position_text if player.also else player.position.word,
            _seen_at(len(days)) if days else tr("not seen yet"),
        ]
        if player.status is not Status.FULL:
            words.insert(1, tr(STATUS_WORDS[player.status]))
        if found and found[0].tallies:
            words.append(sum_words(found[0]))
        return ", ".join(words)

    def _fill_comment(self, player: Player | None) -> None:
        """Show what the staff wrote of the player, such as how they stood last season."""
        found = []
        if player and self.desk.season:
            self.desk.told(lambda: found.append(self.desk.season.player_comments.all()))
        self.comment = found[0].get(player.id, "") if found else ""

    def take_comment_away(self) -> None:
        """Let nothing be written of the player any more."""
        player, season = self._player(), self.desk.season
        if player:
            self.desk.save(lambda: season.player_comments.write(player.id, "", self.desk.tablet.id))
        self._fill_comment(player)

    def _fill_legend(self, legend: str) -> None:
        """Show it, unless what became of pictures stands in its place."""
        if self.told == self._legend:
            self.told = legend
        self._legend = legend

    def _fill_charts(self, standings: Sequence[Standing]) -> None:
        charts, axis = self.ids.charts, axis_of(self.review.standings)
        wanted = (self.number, *(self.desk.skills[one.skill] for one in standings))
        if wanted == self._shown:  # newer standings: one chart a frame, and no frame is late
            self._drawn_later = list(zip(charts.children, reversed(standings), repeat(axis)))
            self._draw_next()
            return
        self._shown, self._drawn_later = wanted, []
        charts.clear_widgets()
        for one in standings:
            chart = TrendChart(self.desk.skills[one.skill], one, axis)
            chart.bind(on_ask=lambda _, skill=one.skill: self.ask(skill))
            charts.add_widget(chart)

    def _draw_one(self, *_) -> None:
        if self._drawn_later:
            chart, standing, axis = self._drawn_later.pop()
            if (chart.standing, chart.axis) != (standing, axis):
                chart.show(standing, axis)
            self._draw_next()

    def _tell_why(self) -> None:
        for chart in self.ids.charts.children:
            chart.asked = chart.skill.key == self.asked
        one = next((s for s in self.review.of(self.number) if s.skill == self.asked), None)
        self.why = _why(self.desk, one) if one else ""

    def _bring_in_view(self, *_) -> None:
        # once the words below have taken their room
        asked = next((chart for chart in self.ids.charts.children if chart.asked), None)
        if asked:
            Clock.schedule_once(lambda _: self._scroll_to(asked), 0.05)

    def _scroll_to(self, chart: TrendChart) -> None:
        # charts that have room already would jump to the foot of the view, away from a finger on them
        if self.ids.charts.height > self.ids.view.height:
            self.ids.view.scroll_to(chart, dp(10), animate=False)

    def _arrange(self, *_) -> None:
        charts, view = self.ids.charts, self.ids.view
        self.columns = min(3 if self.landscape else 2, max(1, len(charts.children)))
        gap = charts.spacing[1]
        room = view.height - 2 * charts.padding[1]
        _, height = grid(len(charts.children), self.columns, room + gap, sp(_LEAST) + gap, sp(_MOST) + gap)
        charts.row_default_height = height - gap


def _why(desk: Desk, standing: Standing) -> str:
    skill = desk.skills[standing.skill].name
    if not is_firm(standing):
        reason = tr(standing.doubt) if standing.doubt else f"{direction_words(standing)}."
        told = tr("{skill}: {what}", skill=skill, what=reason)
        return "\n".join(filter(None, [told, met_words(standing)]))
    lines = [f"{skill}. {reason_heading(standing)}"]
    lines += [f"·  {sentence}" for sentence in reason_sentences(standing, step_names(desk.every_drill))]
    told = (recency_words(standing), to_go_words(standing), met_words(standing))
    return "\n".join([*lines, *filter(None, told)])


def _seen_at(practices: int) -> str:
    return tr_many("seen at {number} practice", "seen at {number} practices", practices)


def _named(player: Player | None) -> str:
    return f"{player.number} {player.name}" if player else ""
