"""What must be said of a plan as a whole, and the wishes that are not met, in sentences."""

from evaltrack.rink.plan import Remark, Unmet, Wish, WishKind

_WISHES = {
    WishKind.TOGETHER: "{0} and {1} together",
    WishKind.APART: "{0} and {1} apart",
    WishKind.NOT_AGAIN: "{0} and {1} not together again",
}
_REMARKS = {
    Remark.NOTHING_TALLIED: "Nothing has been tallied yet: these are easy steps of different drills, so that "
    "there is something to see.",
    Remark.NOTHING_STANDS_OUT: "No skill stands out as a need: in none is it sure enough that a quarter of "
    "the players with a try in it are below the target.",
    Remark.FEWER_STATIONS: "With so few players there are fewer stations than asked for: {0}.",
    Remark.FEWER_STEPS: "The season has too few steps for so many stations ({0} different ones): some have "
    "the same.",
    Remark.NO_ROTATION: "The ice time is too short to go round {0} stations: each group stays at its own.",
    Remark.NO_COACH: "Coaches are too few by {0}: a station with contact runs only while a coach is there.",
    Remark.NO_DEFENDER: "No defender is here: forwards stand in for them.",
    Remark.NO_FORWARD: "No forward is here: defenders stand in for them.",
    Remark.NO_SKATER: "Only goalies are here: the steps are named for what shows their skills.",
    Remark.NO_GOALIE: "No goalie is here: shoot at marks in an empty net.",
    Remark.ONE_GOALIE: "One goalie is here: only one station at a time has one.",
    Remark.CONTACT_EVERYWHERE: "Every station has contact: who takes none needs something apart.",
    Remark.LARGER_STEPS: "Steps that are drawn on more ice than there is: {0}. Each says so.",
    Remark.CROWDED_ICE: "As they are drawn, the stations need more ice than there is: make them smaller.",
    Remark.OTHER_SURFACE: "Only {0} % of the tallies so far were on this surface: shares may differ on it.",
}


def wish_words(wish: Wish) -> str:
    """Return ``2 and 7 together``."""
    return _WISHES[wish.kind].format(wish.player, wish.other)


def unmet_words(unmet: Unmet) -> str:
    """Return which wish is not met, and what it cannot be met together with."""
    against = [wish_words(wish) for wish in unmet.against]
    against += [f"no contact for {number}" for number in unmet.contact]
    reason = (
        f"it does not go with: {'; '.join(against)}"
        if against
        else "the sizes of the groups, or where players are held, do not allow it"
    )
    return f"Not met: {wish_words(unmet.wish)}; {reason}."


def remark_words(remark: Remark, number: int) -> str:
    """Return what must be said of the plan as a whole."""
    return _REMARKS[remark].format(number)
