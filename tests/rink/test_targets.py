"""Which target was in force when: never changed; changed before, on and after the first day; twice."""

from datetime import date, datetime

import pytest
from seasons import skill

from evaltrack.rink.catalogue_change import CatalogueChange, Kind
from evaltrack.rink.targets import goal_of

FIRST = date(2026, 9, 14)


def change(day: date, was: str, becomes: str, key: str = "stop", field: str = "target") -> CatalogueChange:
    """Return a change of a skill at noon of a day."""
    at = int(datetime.combine(day, datetime.min.time()).timestamp() * 1000) + 12 * 3_600_000
    return CatalogueChange(Kind.SKILL, key, field, was, becomes, at=at)


EARLY, SAME, LATER, LAST = date(2026, 9, 1), FIRST, date(2026, 11, 12), date(2027, 1, 8)


@pytest.mark.parametrize(("changes", "first", "since"), [
    ([], 0.6, ()),
    ([change(EARLY, "0.5", "0.55")], 0.55, ()),
    ([change(EARLY, "0.5", "0.55"), change(SAME, "0.55", "0.7")], 0.7, ()),
    ([change(LATER, "0.5", "0.55"), change(LAST, "0.55", "0.7")], 0.5, ((LATER, 0.55), (LAST, 0.7))),
    ([change(SAME, "0.5", "0.55")], 0.55, ()),
    ([change(LATER, "0.5", "0.6")], 0.5, ((LATER, 0.6),)),
    ([change(EARLY, "0.4", "0.5"), change(LATER, "0.5", "0.7"), change(LAST, "0.7", "0.6")], 0.5,
     ((LATER, 0.7), (LAST, 0.6))),
    ([change(LATER, "a", "b", field="name"), change(LATER, "0.1", "0.2", key="start")], 0.6, ()),
])  # fmt: skip
def test_the_target_of_the_first_day_and_each_since(changes, first, since):
    """Changes of other skills and of other things are none; today's is the last one."""
    goal = goal_of(skill("stop"), changes, FIRST)
    assert (goal.first, goal.since) == (first, since)
    assert goal.today == (since[-1][1] if since else first)
