"""The sentences of what moved a share, to be filled in and looked up where they are shown."""

from evaltrack.analysis.standings.standing import Cause
from evaltrack.language import mark

# of a kind of try, by whether it costs points
UNDER = {
    True: mark("under pressure in {tries}; pressure costs {group} {points}"),
    False: mark("under pressure in {tries}; pressure is {points} easier for {group}"),
}
WITHOUT = {
    True: mark("without pressure in {tries}; that costs {group} {points}"),
    False: mark("without pressure in {tries}; that is {points} easier for {group}"),
}
IN_STEP = {
    True: mark("{step} in {tries}; it costs {group} {points}"),
    False: mark("{step} in {tries}; it is {points} easier for {group}"),
}
NOTED_BY = {
    True: mark("{observer} noted {tries} and is {points} stricter than the others who noted the skill"),
    False: mark("{observer} noted {tries} and is {points} more lenient than the others who noted the skill"),
}
AGAINST = {
    True: mark("against {opponent} in {tries}, who holds {group} to {points} fewer"),
    False: mark("against {opponent} in {tries}, who lets {group} have {points} more"),
}
MOSTLY_AGAINST = {
    True: mark("mostly against {opponent} in {tries}, who holds {group} to {points} fewer"),
    False: mark("mostly against {opponent} in {tries}, who lets {group} have {points} more"),
}
# by whether the share moved up
BY_PRESSURE = {
    True: mark("by pressure these tries were harder than usual"),
    False: mark("by pressure these tries were easier than usual"),
}
BY_STEP = {
    True: mark("by step of the drill these tries were harder than usual"),
    False: mark("by step of the drill these tries were easier than usual"),
}
STRICTER = {
    True: mark("whoever noted these tries was, taken together, stricter than the others who noted the skill"),
    False: mark(
        "whoever noted these tries was, taken together, more lenient than the others who noted the skill"
    ),
}
LET_COME_OFF = {
    True: mark("those whom they met, taken together, let fewer come off than the others"),
    False: mark("those whom they met, taken together, let more come off than the others"),
}
DAYS = {
    True: mark("the days of these tries were harder than usual for all"),
    False: mark("the days of these tries were better than usual for all"),
}
# by whether it moved up, and whether that is sure
CHANGES = {
    (True, True): mark("since these tries, on average, the share has gone up"),
    (True, False): mark("since these tries, on average, the share may have gone up"),
    (False, True): mark("since these tries, on average, the share has gone down"),
    (False, False): mark("since these tries, on average, the share may have gone down"),
}


SHORT = {
    Cause.PRESSURE: mark("pressure"),
    Cause.STEP: mark("steps"),
    Cause.OPPONENT: mark("opponents"),
    Cause.OBSERVER: mark("observers"),
    Cause.DAYS: mark("good and bad days"),
    Cause.CHANGE: mark("change since"),
    Cause.LUCK: mark("luck"),
}
