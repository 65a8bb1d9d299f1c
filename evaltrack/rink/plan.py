"""The plan of the next practice: blocks, groups, what is to be trained and why, and whom to watch."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from evaltrack.rink.practice import Surface

BAND = (0.6, 0.8)  # of tries that come off in a step; the coach's choice, with no source for a target


class Grouping(StrEnum):
    """How the players are put into groups: by need, each level everywhere, or like with like."""

    NEED = "need"
    MIXED = "mixed"
    ALIKE = "alike"


class Part(StrEnum):
    """What a block of the ice time is."""

    WARM_UP = "warm_up"
    BOARD = "board"
    STATION = "station"  # every group comes by; while one is here the others are at the other stations
    OWN = "own"  # each group is once more at its own station
    CHANGEOVER = "changeover"
    TOGETHER = "together"  # all in one step, on the whole surface


class WishKind(StrEnum):
    """What is wished of two players. ``NOT_AGAIN``: apart if they were together at the last practice."""

    TOGETHER = "together"
    APART = "apart"
    NOT_AGAIN = "not_again"


@dataclass(frozen=True, slots=True)
class Wish:
    """A wish about two players, by their jersey numbers."""

    kind: WishKind
    player: str
    other: str


@dataclass(frozen=True, slots=True)
class Unmet:
    """A wish that is not met, and the wishes that it cannot be met together with.

    ``against`` is empty where the sizes of the groups alone stand against it. ``contact`` are limited players
    who must be kept from contact stations, where that is what stands against it.
    """

    wish: Wish
    against: tuple[Wish, ...] = ()
    contact: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Likely:
    """An expected number, and the ends of its 90 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Need:
    """What is known of the need for training in one skill, of the players who are meant.

    Attributes
    ----------
    skill : its key.
    players : how many of its positions have a try in it.
    judged : how many players can be judged in it: with tries enough for a call.
    below : how many of those who can be judged are below the target.
    short : by how many points the ``players`` are short of it, on average; nobody makes up for another.
    sure : the probability that at least ``least`` of the ``players`` are below the target.
    least : a quarter of the players, from one.
    tallies, of : how many of the tallies of the last ``practices`` practices were in it.
    named : the numbers of players of whom the call is ``work on``.
    unseen : how many players of the skill have no try in it.
    """

    skill: str
    players: int
    judged: int
    below: Likely
    short: Likely
    sure: float
    least: int
    tallies: int = 0
    of: int = 0
    practices: int = 0
    named: tuple[str, ...] = ()
    unseen: int = 0


@dataclass(frozen=True, slots=True)
class Forecast:
    """How often a skill is predicted to come off in a step, for a group.

    Attributes
    ----------
    skill, drill, step : their keys.
    share : the group's predicted share now, with its 90 % interval.
    fits : the expected part of the group whose own share there is within the band.
    tries : how many tries there were in it, of anybody: 0 for a step that was never tried.
    """

    skill: str
    drill: str
    step: str
    share: Likely
    fits: float
    tries: int


class Basis(StrEnum):
    """What a pace was counted from."""

    REPS = "reps"
    TALLIES = "tallies"  # at least so many: not every rep has a tally
    USUAL = "usual"  # not this team's: a default, common practice


@dataclass(frozen=True, slots=True)
class Pace:
    """How many reps a minute a step makes, and what that was counted from: how many reps or tallies."""

    reps: float
    basis: Basis
    counted: int = 0


@dataclass(frozen=True, slots=True)
class Tries:
    """How many tries in a skill a player can expect from a block."""

    player: str
    skill: str
    tries: float


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of the ice time, in whole minutes.

    Attributes
    ----------
    part : what it is.
    drill, step : their keys; empty where each group has another step or there is none.
    skills : the keys of the skills it trains, most needed first.
    need, forecast, pace : why this skill and this step, and how fast it goes; None where nothing is known.
    tries : what each player can expect.
    stand_aside : the numbers of limited players who stay out of it, because it has contact.
    coached : whether a coach is there.
    contact : whether one player goes at another in it.
    surface : the ice that the step needs; None without one.
    """

    part: Part
    minutes: int
    drill: str = ""
    step: str = ""
    skills: tuple[str, ...] = ()
    need: Need | None = None
    forecast: Forecast | None = None
    pace: Pace | None = None
    tries: tuple[Tries, ...] = ()
    stand_aside: tuple[str, ...] = ()
    coached: bool = True
    contact: bool = False
    surface: Surface | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """Who begins at which station, counted from 0."""

    station: int
    players: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """Whom to watch in a skill, and what that is worth.

    Attributes
    ----------
    player, skill : the jersey number and the key.
    tries, practices : what is there so far.
    days_since : days from the last try to the season's last practice; None without one.
    now : the probability that the call that is likelier now is right.
    worth : by how much one practice of looking raises the chance of a call, on average over the practices
        that it takes.
    visits : how many practices of looking that is.
    """

    player: str
    skill: str
    tries: int
    practices: int
    days_since: int | None
    now: float
    worth: float
    visits: int


@dataclass(frozen=True, slots=True)
class Watch:
    """What the observer watches in one block (counted from 0), and the players to look at first."""

    block: int
    skill: str
    looks: tuple[Look, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a plan is asked for.

    Attributes
    ----------
    minutes : the ice time.
    stations, coaches : how many.
    here : the numbers of who will be here, None for everybody who is not away.
    band : the shares between which tries are to come off in a step.
    wishes : of two players each; ``before`` are the groups of the last practice.
    held_players : of players who stay where the coach has put them, number and station, from 0. That may make
        groups uneven, and a limited player then stands aside.
    held_steps : of stations, or what comes after them, that keep their step: the place, drill and step.
    seconds : how long the groups may be worked on.
    """

    minutes: int = 60
    stations: int = 3
    coaches: int = 3
    surface: Surface = Surface.FULL
    here: tuple[str, ...] | None = None
    grouping: Grouping = Grouping.NEED
    band: tuple[float, float] = BAND
    wishes: tuple[Wish, ...] = ()
    before: tuple[frozenset[str], ...] = ()
    held_players: tuple[tuple[str, int], ...] = ()
    held_steps: tuple[tuple[int, str, str], ...] = ()
    seconds: float = 10.0


class Remark(StrEnum):
    """What must be said of a plan as a whole."""

    NOTHING_TALLIED = "nothing_tallied"
    NOTHING_STANDS_OUT = "nothing_stands_out"
    FEWER_STATIONS = "fewer_stations"  # than asked for: too few players
    FEWER_STEPS = "fewer_steps"  # than stations: some have the same step
    NO_ROTATION = "no_rotation"  # the ice time is too short for every group to come by every station
    NO_COACH = "no_coach"  # at a station that should have one
    NO_DEFENDER = "no_defender"
    NO_FORWARD = "no_forward"
    NO_SKATER = "no_skater"
    NO_GOALIE = "no_goalie"
    ONE_GOALIE = "one_goalie"
    CONTACT_EVERYWHERE = "contact_everywhere"  # and a limited player is here
    LARGER_STEPS = "larger_steps"  # so many steps are planned on more ice than there is
    CROWDED_ICE = "crowded_ice"  # all stations together are
    OTHER_SURFACE = "other_surface"  # most tallies were made on; the number is the percentage on this one


@dataclass(frozen=True, slots=True)
class Plan:
    """The next practice.

    Attributes
    ----------
    asked : what was asked for.
    blocks : they add up to the ice time.
    groups : who is where at first; everybody who is here is in one of them.
    starts : drill and step of each station.
    needs : the skills that are proposed, the most needed first.
    forecasts : of each of them every step that shows it, the one that fits most players first.
    watch : what to watch in each block of a step.
    unmet : wishes that are not met.
    optimal : whether no better groups exist by the rule that was asked for; ``gap`` is by how much better
        they could be otherwise.
    remarks : what must be said, each with a number that belongs to it.
    limited : the numbers of players who take no contact.
    """

    asked: Asked
    blocks: tuple[Block, ...]
    groups: tuple[Group, ...]
    starts: tuple[tuple[str, str], ...]
    needs: tuple[Need, ...] = ()
    forecasts: tuple[Forecast, ...] = ()
    watch: tuple[Watch, ...] = ()
    unmet: tuple[Unmet, ...] = ()
    optimal: bool = True
    gap: float = 0.0
    remarks: tuple[tuple[Remark, int], ...] = ()
    limited: tuple[str, ...] = ()

    def tries_of(self) -> Mapping[tuple[str, str], float]:
        """Return how many tries each player can expect in each skill, by number and key."""
        found: dict[tuple[str, str], float] = {}
        for block in self.blocks:
            for one in block.tries:
                pair = (one.player, one.skill)
                found[pair] = found.get(pair, 0.0) + one.tries
        return found
