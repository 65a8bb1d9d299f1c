"""One skill for the whole team: what counts, everyone's standing, what steps cost, where the team goes."""

from functools import partial
from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, StringProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.season_view import Part
from evaltrack.language import tr
from evaltrack.rink.drill import steps_by_drill
from evaltrack.rink.player import Player, Status
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review.review import Review
from evaltrack.touch.review.skill_bars import SkillRow
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line
from evaltrack.touch.worker.tasks import team_in
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.legends import skill_legend
from evaltrack.words.season import TITLES
from evaltrack.words.team import (
    IN_BRACKETS,
    NO_TRY_OF_PLAYER,
    TEAM_MEANING,
    cost_lines,
    definition_lines,
    reached_lines,
    team_lines,
    whom_words,
)
from evaltrack.words.wording import count_words, state_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class SkillScreen(AppScreen):
    """``skill`` is the key of the skill. ``team`` are sentences on the team, ``costs`` those on its steps.

    ``meaning`` says how to read them, ``waiting`` that they are still being worked out.
    """

    __events__ = ("on_back", "on_player")
    skill = StringProperty("")
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    legend = StringProperty("")
    team = ListProperty()
    costs = ListProperty()
    meaning = StringProperty("")
    waiting = BooleanProperty(False)

    def __init__(self, desk: Desk, review: Review, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.review, self._worker = review, worker
        self._later = Clock.create_trigger(self._fill, -1)
        self._of = None  # the standings and the skill for which the team was asked

    def on_pre_enter(self, *_):
        """Show the standings at hand, and newer ones as they come."""
        self.ids.view.scroll_y = 1
        self.review.show(self._later)

    def on_leave(self, *_):
        """Draw nothing while another screen is shown."""
        self.review.hide(self._later)

    def on_skill(self, *_):
        """Show another skill."""
        self._say(None)
        self._later()

    def _fill(self, *_) -> None:
        skill = self.desk.skills.get(self.skill)
        if skill is None:
            return
        self.heading, self.summary, self.words = skill.name, whom_words(skill), self.review.words
        own = {one.player: one for one in self.review.standings if one.skill == skill.key}
        rows = [p for p in self.desk.players if p.number in own or skill.suits(*p.positions)]
        last = max((seen.on for one in self.review.standings for seen in one.seen), default=None)
        self.ids.bars.target = skill.target
        self.ids.bars.rows = [_row(player, own.get(player.number), last) for player in rows]
        self.legend = skill_legend(own.values(), any(p.status is Status.LIMITED for p in rows))
        self._ask_for_team()
        self._tell()

    def _ask_for_team(self) -> None:
        asked = (self.skill, self.review.standings)
        if not self.review.standings:  # there are none yet, or those of another season were let go
            self._of, self.waiting = None, False
            self._say(None)
        if self._of == asked or self.desk.season is None or not self.review.standings:
            return
        self._of, self.waiting = asked, True
        work = partial(team_in, self.desk.season.path, self.skill)
        self._worker.ask(work, partial(self._take, asked), partial(self._fail, asked))

    def _take(self, asked: tuple, found: TeamCourse | None) -> None:
        if asked == self._of:
            self.waiting = False
            self._say(found)
            self._tell()

    def _say(self, found: TeamCourse | None) -> None:
        self.team = [*team_lines(found), *reached_lines(found)] if found else []
        self.meaning = f"{tr(TEAM_MEANING)} {tr(IN_BRACKETS)}" if found and found.path else ""
        self.costs = cost_lines(found, steps_by_drill(self.desk.every_drill)) if found else []

    def _fail(self, asked: tuple, sentence: str) -> None:
        if asked == self._of:
            self._of, self.waiting = None, False
            self.words = tr("The team could not be worked out: {reason}.", reason=sentence)

    def _tell(self) -> None:
        skill, body = self.desk.skills.get(self.skill), self.ids.said
        if skill is None:  # the season was closed meanwhile
            return
        body.clear_widgets()
        for heading, lines, under in (
            (tr("What counts"), definition_lines(skill), ""),
            (tr("The team"), self.team or [self._nothing_of_team()], self.meaning),
            (tr(TITLES[Part.COSTS]), self.costs, ""),
        ):
            if lines:
                body.add_widget(Heading(text=heading))
            for line in lines:
                body.add_widget(Line(text=line, font_size="16sp"))
            if under:
                body.add_widget(Line(text=under, font_size="14sp", soft=True))

    def _nothing_of_team(self) -> str:
        return tr("Working it out …") if self.waiting else tr("Nothing was tallied in this skill yet.")


def _row(player: Player, standing: Standing | None, last) -> SkillRow:
    if standing is None:
        return SkillRow(player, None, "", tr(NO_TRY_OF_PLAYER))
    return SkillRow(player, standing, count_words(standing.done, standing.tries), state_words(standing, last))
