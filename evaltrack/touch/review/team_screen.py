"""The team board: who needs work on what, and how sure that is."""

from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.metrics import sp
from kivy.properties import AliasProperty, BooleanProperty, StringProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.player import Position
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review.review import Review
from evaltrack.touch.review.team_choice import Choice, Table, choose
from evaltrack.touch.review.team_layout import Columns
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.words.legends import WITHOUT_COLUMN, calls_shown, team_legend
from evaltrack.words.observers import strict_title, strict_words, with_and_without
from evaltrack.words.sums import sum_words
from evaltrack.words.wording import ENOUGH, counted, short_date

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WIDE_ENOUGH = 1200, 860  # sp: for the keys beside the heading, and for all of them in one row
_NO_PLAYERS = mark("There are no players in this season yet.")
_NOTHING = mark("No tallies yet. What is tallied at the bench stands here after practice.")
_NO_CALLS = mark("No calls here yet. A call needs at least {enough}, and then to be likely enough.")


class TeamScreen(AppScreen):
    """``group`` is a position group's letter or empty for everyone.

    ``rows_of_keys`` says how many rows of keys stand below the heading; with none they stand beside it.

    ``on_player`` brings the number of the player who is wanted, ``on_skill`` the key of a skill.
    ``strict`` names who is much stricter than the other observers, or notes mostly failures; opened,
    ``strict_words`` say what to do and show the team's counts with them and without.
    """

    __events__ = ("on_back", "on_player", "on_skill", "on_coverage", "on_agreement")
    group = StringProperty("")
    only_calls = BooleanProperty(False)
    by_name = BooleanProperty(False)
    summary = StringProperty("")
    empty = StringProperty("")
    legend = StringProperty("")
    rows_of_keys = AliasProperty(
        lambda self: sum(self.width < sp(least) for least in _WIDE_ENOUGH), bind=("width",), cache=True
    )
    strict = StringProperty("")
    strict_open = BooleanProperty(False)
    strict_words = StringProperty("")

    def __init__(self, desk: Desk, review: Review, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.review = review
        self._later = Clock.create_trigger(self._fill, -1)
        for name in ("group", "only_calls", "by_name", "size", "strict_open"):
            self.fbind(name, self._later)

    def on_pre_enter(self, *_):
        """Show the standings at hand, and newer ones as they come."""
        self.review.show(self._later)

    def on_leave(self, *_):
        """Draw nothing while another screen is shown."""
        self.review.hide(self._later)

    def _fill(self, *_) -> None:
        desk, review = self.desk, self.review
        group = Position(self.group) if self.group else None
        whole = choose(
            desk.players, desk.skills.values(), review.standings, Choice(group, self.only_calls, self.by_name)
        )
        self.empty = self._why_empty(whole)
        self.takes_hint = not self.empty
        table = Table() if self.empty else whole.wrapped(Columns(self.width).most)
        self.ids.rows.table, shown = table, table.shown
        self.ids.key.calls, self.ids.key.limited = calls_shown(shown), table.has_limited
        self.legend = "  ".join(filter(None, self._said(table, shown))) if shown else ""
        words = review.words or _summary(review.standings)
        self.summary = "" if words == self.empty else words

        self._fill_strict()

    def _said(self, table: Table, shown: list[Standing]) -> tuple[str, str, str]:
        groups = {block.group for block in table.blocks}
        own = {skill for skill in self.desk.skills.values() if any(map(skill.suits, groups))}
        left_out = bool(own - set(table.skills)) and not self.only_calls
        return self._sums(), team_legend(shown), tr(WITHOUT_COLUMN) if left_out else ""

    def _sums(self) -> str:
        """Return how many tallies the season has, where not all of them are the tries that stand here."""
        found, season = [], self.desk.season
        if season:
            self.desk.told(lambda: found.append(season.tally_sums.of_season()))
        words = sum_words(found[0]) if found else ""
        return f"{words}." if ":" in words else ""

    def _fill_strict(self) -> None:
        strict = () if self.empty else self.review.strict
        self.strict = "; ".join(strict_title(one) for one in strict)
        told = [line for one in strict for line in self._told_of(one)]
        self.strict_words = "\n".join(told) if self.strict_open else ""

    def _told_of(self, one: StrictObserver) -> list[str]:
        skills = self.desk.skills
        lines = [(skills[c.skill].name, *with_and_without(c)) for c in one.counts if c.skill in skills]
        words = mark("·  {skill}: {both}; without {observer} {rest}")
        team = [
            tr(words, skill=skill, both=both, observer=one.observer, rest=rest) for skill, both, rest in lines
        ]
        return [strict_words(one), tr("The team's counts:"), *team]

    def _why_empty(self, table: Table) -> str:
        if not self.desk.players:
            return tr(_NO_PLAYERS)
        if not self.review.standings:
            return self.review.words or self._why_nothing()
        if not table.players:
            return _no_calls() if self.only_calls else tr("There are no players in this position group.")
        return ""

    def _why_nothing(self) -> str:
        told = self._sums()
        if not told:
            return tr(_NOTHING)
        return tr("There is no try that counts yet. The season has {tallies}", tallies=told)


def _no_calls() -> str:
    return tr(_NO_CALLS, enough=tr(ENOUGH))


def _summary(standings) -> str:
    days = {seen.on for one in standings for seen in one.seen}
    if not days:
        return ""
    tries = sum(one.tries for one in standings)
    last = max(days)
    return tr_many(
        "{tries} try at {practices}, to {day}",
        "{tries} tries at {practices}, to {day}",
        tries,
        tries=tries,
        practices=counted(len(days), "practice"),
        day=f"{short_date(last)} {last.year}",
    )
