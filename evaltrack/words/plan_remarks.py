"""What must be said of a plan as a whole, and the wishes that are not met, in sentences."""

from evaltrack.language import mark, tr
from evaltrack.rink.plan import Remark, Unmet, Wish, WishKind

_WISHES = {
    WishKind.TOGETHER: mark("{player} and {other} together"),
    WishKind.APART: mark("{player} and {other} apart"),
    WishKind.NOT_AGAIN: mark("{player} and {other} not together again"),
}
_REMARKS = {
    Remark.NOTHING_TALLIED: mark(
        "Nothing has been tallied yet: these are easy steps of different drills, so that "
        "there is something to see."
    ),
    Remark.NOTHING_STANDS_OUT: mark(
        "No skill stands out as a need: in none is it sure enough that a quarter of "
        "the players with a try in it are below the target."
    ),
    Remark.FEWER_STATIONS: mark("With so few players there are fewer stations than asked for: {number}."),
    Remark.FEWER_STEPS: mark(
        "The season has too few steps for so many stations ({number} different ones): some have the same."
    ),
    Remark.NO_ROTATION: mark(
        "The ice time is too short to go round {number} stations: each group stays at its own."
    ),
    Remark.NO_COACH: mark(
        "Coaches are too few by {number}: a station with contact runs only while a coach is there."
    ),
    Remark.NO_DEFENDER: mark("No defender is here: forwards stand in for them."),
    Remark.NO_FORWARD: mark("No forward is here: defenders stand in for them."),
    Remark.NO_SKATER: mark("Only goalies are here: the steps are named for what shows their skills."),
    Remark.NO_GOALIE: mark("No goalie is here: shoot at marks in an empty net."),
    Remark.ONE_GOALIE: mark("One goalie is here: only one station at a time has one."),
    Remark.CONTACT_EVERYWHERE: mark("Every station has contact: who takes none needs something apart."),
    Remark.LARGER_STEPS: mark("Steps that are drawn on more ice than there is: {number}. Each says so."),
    Remark.CROWDED_ICE: mark(
        "As they are drawn, the stations need more ice than there is: make them smaller."
    ),
    Remark.OTHER_SURFACE: mark(
        "Only {number} % of the tallies so far were on this surface: shares may differ on it."
    ),
}


def wish_words(wish: Wish) -> str:
    """Return ``2 and 7 together``."""
    return tr(_WISHES[wish.kind], player=wish.player, other=wish.other)


def unmet_words(unmet: Unmet) -> str:
    """Return which wish is not met, and what it cannot be met together with."""
    against = [wish_words(wish) for wish in unmet.against]
    against += [tr("no contact for {player}", player=number) for number in unmet.contact]
    wish = wish_words(unmet.wish)
    if against:
        return tr("Not met: {wish}; it does not go with: {others}.", wish=wish, others="; ".join(against))
    return tr(
        "Not met: {wish}; the sizes of the groups, or where players are held, do not allow it.", wish=wish
    )


def remark_words(remark: Remark, number: int) -> str:
    """Return what must be said of the plan as a whole."""
    return tr(_REMARKS[remark], number=number)
