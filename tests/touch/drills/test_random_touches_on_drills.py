"""Whatever is touched in the drills: no fault, never half a draft, and what is saved can be read."""

import random

import pytest
from pressing import keys_of

from evaltrack.store.opening import open_season
from evaltrack.touch.widgets.field import Field

OURS = ("drills", "drill", "step", "reps")
NAMES = ("Point D", "", "Žofie", "x" * 60, "A\u200bB", "out", "2 against 1")
TOUCHES = 70


@pytest.mark.parametrize("seed", range(2))
def test_random_touches_leave_no_fault_and_drills_that_can_be_read(drills, season_path, seed):
    """Keys, rows, discs, Undo, Save and names at random."""
    chance, driver = random.Random(seed), drills.driver
    app, seen = driver.app, set()
    app.allowed = lambda name: name if name in OURS else "drills"
    for _ in range(TOUCHES):
        touch_something(drills, chance)
        seen.add(drills.name)
        draft = app.drafting.draft
        assert all(step.slots for drill in draft.drills for step in drill.steps)
        assert len(draft.reading.drills) == len(draft.drills)
    assert {"drills", "drill", "step"} <= seen
    with open_season(season_path) as season:
        assert season.catalogue.drills() == list(drills.desk.drills)


def touch_something(drills, chance):
    """Tap a key that is in sight or a disc, or type a name."""
    screen, driver = drills.screen, drills.driver
    fields = [widget for widget in screen.walk(restrict=True) if isinstance(widget, Field)]
    if fields and chance.random() < 0.2:
        fields[0].text = chance.choice(NAMES)
    elif drills.name == "step" and chance.random() < 0.2:
        plan = screen.ids.plan
        driver.tap(plan.to_window(*plan.middle(chance.choice(sorted(plan.plan.places)))))
    else:
        keys = [key for key in keys_of(driver) if min(key.size) > 1]
        keys = [key for key in keys if 0 < key.to_window(*key.center)[1] < 800]
        driver.tap(chance.choice(keys))
    driver.frames(3)
