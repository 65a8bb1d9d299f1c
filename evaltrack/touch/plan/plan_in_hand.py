"""The plan that is in hand: what is asked for, what was worked out, and each change saved. No widgets."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import partial
from uuid import UUID

from evaltrack.rink.ice_time import IceTime, in_order
from evaltrack.rink.plan import BAND, Asked, Grouping, Wish
from evaltrack.rink.plan_card import CardWish, PlanCard
from evaltrack.rink.plan_changes import held_players, held_steps, kept_from
from evaltrack.rink.player import by_number
from evaltrack.rink.practice import Surface
from evaltrack.rink.short_names import short_names
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.planning import PlanNames, plan_names

MOST_WISHES = 30  # with more the solver may need longer than a coach waits
LIMITS = {"minutes": (10, 240), "stations": (1, 12), "coaches": (0, 30)}


@dataclass
class Wanted:
    """What the next plan is to be. ``here`` are the players who are expected."""

    day: date
    here: set[UUID] = field(default_factory=set)
    minutes: int = 60
    stations: int = 3
    coaches: int = 3
    surface: Surface = Surface.FULL
    grouping: Grouping = Grouping.NEED
    band: tuple[float, float] = BAND
    ice_time: str = ""  # the uid of the one that it is for
    wishes: tuple[CardWish, ...] = ()  # at most one of two players

    def change(self, name: str, by: int) -> None:
        """Change a number within its limits."""
        low, high = LIMITS[name]
        setattr(self, name, max(low, min(high, getattr(self, name) + by)))

    def move_band(self, by: int) -> None:
        """Ask for steps that come off more or less often, by tenths; the band stays as wide."""
        low, high = (round(10 * end) + by for end in self.band)
        if low >= 1 and high <= 10:
            self.band = low / 10, min(high / 10, 0.99)


class PlanInHand:
    """``card`` is the plan of a practice that is to come, or None; ``wanted`` what the next is to be."""

    def __init__(self, desk: Desk, worker: Worker, today: Callable[[], date] = date.today):
        self.desk, self._worker, self._today = desk, worker, today
        self.card: PlanCard | None = None
        self._season = None
        self.wanted = Wanted(today())

    @property
    def names(self) -> PlanNames:
        """Return the names of skills and steps, those that are not in use any more among them."""
        return plan_names(self.desk.skills.values(), self.desk.every_drill)

    def read(self) -> None:
        """Take up the plan that was written last, unless its practice has begun or its day is over."""
        found: list[PlanCard | None] = []
        if not self.desk.told(lambda: found.append(self.desk.season.plans.last())):
            self.card = None
            return
        card = found[0]
        self.card = card if card is not None and self._is_to_come(card) else None
        if self._season is not self.desk.season or self.wanted.day < self._today():
            self._season = self.desk.season
            self.wanted = self._as_before(card) if card else self._first()

    def _is_to_come(self, card: PlanCard) -> bool:
        """Say whether the practice of a plan has not begun yet, or runs just now."""
        if card.practice:
            return self.desk.practice is not None and self.desk.practice.key == card.practice
        return card.day >= self._today()

    def _first(self) -> Wanted:
        day = self._today()
        return Wanted(day, {player.id for player in self.desk.likely_present(day)})

    def _as_before(self, card: PlanCard) -> Wanted:
        """Return what was asked for last; who is expected is guessed again for another day."""
        day = max(card.day, self._today())
        here = set(card.places) if day == card.day else {p.id for p in self.desk.likely_present(day)}
        asked = card.stations, card.coaches, card.surface, card.grouping, card.band
        ice_time = card.ice_time if day == card.day else ""
        return Wanted(day, here, card.minutes, *asked, ice_time, self._still_wished(card.wishes))

    def _still_wished(self, wishes: Iterable[CardWish]) -> tuple[CardWish, ...]:
        """Return wishes as they are asked for again: those about players who are on the roster."""
        roster = {player.id for player in self.desk.players}
        return tuple(CardWish(w.kind, w.player, w.other) for w in wishes if w.pair <= roster)

    @property
    def shirts(self) -> dict[UUID, str]:
        """Return everybody's number and first name."""
        short = short_names(self.desk.everyone)
        return {player.id: f"{player.number} {short[player.id]}" for player in self.desk.everyone}

    def wish(self, wish: CardWish) -> bool:
        """Wish something of two players, in place of what was wished of them; False where it is too much."""
        others = tuple(one for one in self.wanted.wishes if one.pair != wish.pair)
        if len(others) >= MOST_WISHES:
            return False
        self.wanted.wishes = (*others, wish)
        return True

    def wish_no_more(self, wish: CardWish) -> None:
        """Take a wish out."""
        self.wanted.wishes = tuple(one for one in self.wanted.wishes if one != wish)

    def move_day(self, by: int) -> None:
        """Plan for another day, not before today."""
        self.wanted.day = max(self._today(), self.wanted.day + timedelta(by))
        self.wanted.ice_time = ""

    def ice_times(self) -> list[IceTime]:
        """Return the ice times to come, the next one first."""
        found: list[IceTime] = []
        self.desk.told(lambda: found.extend(self.desk.season.calendar.all()))
        return in_order(found, self._today())

    def take_ice(self, entry: IceTime) -> None:
        """Plan for an ice time of the calendar."""
        wanted = self.wanted
        wanted.day, wanted.minutes, wanted.surface = entry.day, entry.minutes, entry.surface
        wanted.ice_time = entry.uid

    def ice_time(self) -> IceTime | None:
        """Return the ice time of the plan in hand, if the calendar still has it."""
        uid = self.card.ice_time if self.card else ""
        return next((one for one in self.ice_times() if uid and one.uid == uid), None)

    def asked(self) -> Asked:
        """Return what is asked for: what is locked in the plan in hand stays."""
        wanted, card = self.wanted, self.card
        numbers = {player.id: player.number for player in self.desk.players}
        held = held_players(card) if card else {}
        expected = [p for p in sorted(self.desk.players, key=by_number) if p.id in wanted.here]
        return Asked(
            minutes=wanted.minutes,
            stations=wanted.stations,
            coaches=wanted.coaches,
            surface=wanted.surface,
            here=tuple(player.number for player in expected),
            grouping=wanted.grouping,
            band=wanted.band,
            wishes=tuple(
                Wish(wish.kind, numbers[wish.player], numbers[wish.other])
                for wish in self._still_wished(wanted.wishes)
            ),
            held_players=tuple((numbers[p], at) for p, at in held.items() if p in wanted.here & set(numbers)),
            held_steps=held_steps(card) if card else (),
        )

    def work_out(self, done: Callable[[], None], failed: Callable[[str], None]) -> None:
        """Have the plan worked out beside the app, and keep it."""
        work = partial(tasks.plan_at, self.desk.season.path, self.asked(), self.wanted.day)
        self._worker.ask(work, partial(self._take, self.desk.season, self.card, done), failed)

    def _take(self, season, before: PlanCard | None, done: Callable[[], None], card: PlanCard) -> None:
        if season is not self.desk.season:
            return  # another one was opened meanwhile
        card = replace(card, ice_time=self.wanted.ice_time)
        if before is not None:
            card = replace(kept_from(before, card), practice=before.practice)
        self.change(card)
        done()

    def change(self, card: PlanCard) -> bool:
        """Have another plan in hand once it is kept."""
        if card == self.card:
            return False
        desk = self.desk
        if not desk.save(lambda: desk.season.plans.add(card, desk.tablet.id, desk.now())):
            return False
        self.card = card
        desk.plan_changed(card)
        return True

    def put_aside(self) -> None:
        """Begin a new plan; the one in hand stays in the season file."""
        self.card = None

    def print_out(self, paper: str, told: Callable[[str], None]) -> None:
        """Have the plan printed beside the season file, and say where it is or why it is not."""
        self._worker.ask(partial(tasks.print_plan, self.desk.season.path, self.card, paper), told, told)
