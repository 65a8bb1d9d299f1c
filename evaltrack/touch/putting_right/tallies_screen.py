"""Tallies of a practice are chosen, by what they have in common or one by one, and put right."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.practice_story import Story, Stretch, story_of
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_choice import Choice, time_of
from evaltrack.rink.tally_correction import Change, Stood, TallyCorrection, Value
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.putting_right.repairs import CHANGED, Repairs
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for
from evaltrack.words.corrections import PRESSURE, Names, counts_after, what_would_change
from evaltrack.words.practices import clocks
from evaltrack.words.wording import clock_time

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_SINGLE = 40  # tallies that can be shown one by one; more would be no help
_ASKED = {
    Change.PLAYER: mark("Whose were they?"),
    Change.OUTCOME: mark("What came of them?"),
    Change.SKILL: mark("Which skill was it?"),
    Change.STEP: mark("In which step was it?"),
    Change.PRESSURE: mark("Was there pressure?"),
}
_ONE_BY_ONE = mark("One by one: tap one to choose it alone, and more to add them")
_MINUTE = timedelta(minutes=1)


class TalliesScreen(AppScreen):
    """Which tallies of the practice ``key``, and then what they were; ``on_done`` when they are put right.

    ``chosen`` is how many are, ``asking`` that what they were is asked for.
    """

    __events__ = ("on_back", "on_done")
    key = StringProperty("")
    summary = StringProperty("")
    chosen = NumericProperty(0)
    asking = BooleanProperty(False)

    def __init__(self, desk: Desk, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._repairs = Repairs(desk)
        self._names = Names.of((), (), ())
        self._start_over()

    def on_pre_enter(self, *_):
        """Read the tallies again, and begin with all of them."""
        self._start_over()
        self.desk.told(self._read)
        self._fill()

    def back(self) -> None:
        """Go back to the choice, or leave the screen."""
        if self.asking:
            self._fill()
        else:
            self.dispatch("on_back")

    def _start_over(self) -> None:
        self._choice, self._stretch = Choice(), None
        self._left_out: set[UUID] = set()
        self._stands: list[Stood] = []  # or those of another practice would stand here when a read fails
        self._story: Story = story_of([])
        self.ids.view.scroll_y = 1

    def _read(self) -> None:
        stands = self.desk.season.log.stands(self.key)
        held = {practice.key: practice.held_on for practice in self.desk.season.practices.every()}
        self._names = Names.read(self.desk.season, held[self.key])
        self._stands = [one for one in stands if not one.aside]
        self._story = story_of([one.tally for one in self._stands])

    def _meant(self) -> list[Stood]:
        """Return those that have in common what is chosen, left out or not."""
        found = [one for one in self._stands if self._choice.takes(one.tally)]
        return [one for one in found if self._stretch is None or one.tally.id in self._stretch.ids]

    def _chosen(self) -> list[Stood]:
        return [one for one in self._meant() if one.tally.id not in self._left_out]

    def _fill(self) -> None:
        meant = self._meant()
        self.asking, self.chosen = False, len(self._chosen())
        self.summary = tr_many(
            "{chosen} of {number} tally chosen",
            "{chosen} of {number} tallies chosen",
            len(self._stands),
            chosen=self.chosen,
        )
        names = self._names
        parts = [
            *self._stretches(names),
            *self._players(names),
            *self._skills(names),
            *self._span(),
            *self._single(meant, names),
        ]
        self._replace(parts)

    def _replace(self, parts: list) -> None:
        body = self.ids.body
        body.clear_widgets()
        for part in parts:
            body.add_widget(part)

    def choose(self, **common) -> None:
        """Choose the tallies that have something else in common."""
        self._choice, self._left_out = replace(self._choice, **common), set()
        self._fill()

    def _stretches(self, names: Names) -> list:
        found = self._story.stretches
        options = [Option(tr("All of it"), "", partial(self._take, None), self._stretch is None)]
        options += [
            Option(
                f"{clocks(one.first, one.last)}, {one.observer}",
                f"{names.steps[one.drill, one.step]}, {one.tallies}",
                partial(self._take, one),
                one == self._stretch,
            )
            for one in found
        ]
        return [Heading(text=tr("What was watched")), keys_for(options, "300dp")]

    def _take(self, stretch: Stretch | None) -> None:
        self._stretch, self._left_out = stretch, set()
        self._fill()

    def _players(self, names: Names) -> list:
        seen, now = self._story.players(), self._choice.player
        options = [Option(tr("Everyone"), "", lambda: self.choose(player=None), now is None)]
        options += [
            Option(f"{p.number} {p.name}", "", partial(self.choose, player=p.id), p.id == now)
            for p in names.of_players(seen)
        ]
        return [Heading(text=tr("Whose")), keys_for(options, "190dp")]

    def _skills(self, names: Names) -> list:
        seen, now = {skill for _, skill in self._story.counts}, self._choice.skill
        options = [Option(tr("Every skill"), "", lambda: self.choose(skill=None), now is None)]
        options += [
            Option(one.name, "", partial(self.choose, skill=one.key), one.key == now)
            for one in names.skills.values()
            if one.key in seen
        ]
        return [Heading(text=tr("Which skill")), keys_for(options, "190dp")]

    def _span(self) -> list:
        moments = [moment for one in self._stands if (moment := time_of(one.tally))]
        if not moments:
            return []
        first, until = _at(min(moments), self._choice.first), _at(max(moments), self._choice.until)
        # one past the other would mean a time over midnight, and nearly everything
        later, earlier = min(first + _MINUTE, until), max(until - _MINUTE, first)
        start, end = tr("from {time}", time=clock_time(first)), tr("until {time}", time=clock_time(until))
        before, after = tr("A minute earlier"), tr("A minute later")
        options = [
            Option(before, start, partial(self._move, "first", first - _MINUTE)),
            Option(after, start, partial(self._move, "first", later)),
            Option(before, end, partial(self._move, "until", earlier)),
            Option(after, end, partial(self._move, "until", until + _MINUTE)),
        ]
        heading = self._span_words(clock_time(first), clock_time(until))
        return [Heading(text=heading), keys_for(options, "150dp")]

    def _span_words(self, first: str, until: str) -> str:
        without = self._story.without_time
        if not (without and self._choice.by_time):
            return tr("From {first} until {until}", first=first, until=until)
        words = mark("From {first} until {until}; {number} were loaded without a time")
        return tr(words, first=first, until=until, number=without)

    def _move(self, end: str, moment: datetime) -> None:
        self.choose(**{end: moment.time().replace(second=0, microsecond=0)})

    def _single(self, meant: list[Stood], names: Names) -> list:
        if len(meant) > _SINGLE:
            return [Heading(text=tr("One by one: choose less, and each tally stands here"))]
        options = [self._one(stood.tally, names) for stood in meant]
        return [Heading(text=tr(_ONE_BY_ONE)), keys_for(options, "190dp")] if options else []

    def _one(self, tally: Tally, names: Names) -> Option:
        moment, player = time_of(tally), names.players[tally.player]
        title = f"{moment:%H:%M:%S} {tr(tally.outcome)}" if moment else tr(tally.outcome)
        small = f"{player.number} {names.skills[tally.skill].name}"
        return Option(title, small, partial(self._turn, tally.id), tally.id not in self._left_out)

    def _turn(self, ident: UUID) -> None:
        """Leave one out; the first touch on one of many leaves only it."""
        whole = not self._left_out and len(self._meant()) > 1
        self._left_out = {s.tally.id for s in self._meant()} - {ident} if whole else self._left_out ^ {ident}
        self._fill()

    def ask(self, change: str) -> None:
        """Ask what the chosen tallies were."""
        wanted = Change(change)
        self._replace([Heading(text=tr(_ASKED[wanted])), keys_for(self._values(wanted), "220dp")])
        self.asking, self.ids.view.scroll_y = True, 1

    def _values(self, change: Change) -> list[Option]:
        desk = self.desk
        values: dict[Change, list[tuple[str, Value]]] = {
            Change.PLAYER: [(f"{p.number} {p.name}", p.id) for p in desk.players],
            Change.OUTCOME: [(tr(outcome), outcome) for outcome in Outcome],
            Change.SKILL: [(one.name, (one.key, 0)) for one in desk.skills.values()],
            Change.STEP: [(step.name, (d.key, step.key)) for d in desk.drills for step in d.steps],
            Change.PRESSURE: [(tr(words), value) for value, words in PRESSURE.items()],
        }
        drills = {d.key: d.name for d in desk.drills}
        return [
            Option(
                title,
                drills[value[0]] if change is Change.STEP else "",
                partial(self.ask_whether, change, value),
            )
            for title, value in values[change]
        ]

    def ask_whether(self, change: Change | str, value: Value) -> None:
        """Say what would change, in counts, before anything is put right."""
        stands, change = self._chosen(), Change(change)
        if change is Change.SKILL and not self.desk.told(lambda: self._learn_version(value[0], stands)):
            return
        value = (value[0], self._version) if change is Change.SKILL else value
        wanted = self._repairs.wanted(stands, change, value, self.key)
        if wanted:
            self._replace(self._preview(wanted))
            self.asking, self.ids.view.scroll_y = True, 1

    def _preview(self, wanted: TallyCorrection) -> list:
        words = counts_after(wanted, self._stands, self.key, self._names)
        # the keys above what may be a long list
        keys = keys_for(self._whether(wanted), "220dp")
        return [Heading(text=what_would_change(wanted, self._names)), keys, Line(text=words)]

    def _whether(self, wanted: TallyCorrection) -> list[Option]:
        return [
            Option(tr("Put it right"), tr("it can be taken back"), partial(self._put_right, wanted), True),
            Option(tr("Leave it"), tr("as it is"), self._fill),
        ]

    def _put_right(self, wanted: TallyCorrection) -> None:
        if self._repairs.correct(wanted, self._stands):
            self.dispatch("on_done")
        elif self.desk.message == tr(CHANGED):
            self.on_pre_enter()

    def _learn_version(self, skill: str, stands: list[Stood]) -> None:
        last = max(one.tally.at for one in stands)
        self._version = self.desk.season.catalogue.version_at(skill, last)


def _at(day: datetime, clock) -> datetime:
    return day if clock is None else datetime.combine(day.date(), clock)
