"""One rule of the estimates put back to what it was, for as long as a block runs.

Each of these replaces exactly what its docstring names, and nothing else; afterwards everything is as it was.
"""

from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np
import pandas as pd

from evaltrack.analysis.mixed_logit.laplace import Laplace
from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.linear_predictor import Kinds, LinearPredictor
from evaltrack.analysis.standings import calls, standings

Array = np.ndarray
CALLED_FROM = 20


@contextmanager
def _with(owner: object, name: str, value: object) -> Iterator[None]:
    before = getattr(owner, name)
    setattr(owner, name, value)
    try:
        yield
    finally:
        setattr(owner, name, before)


def calls_from_20_tries():
    """Replace ``Evidence.enough``: ``work on`` and ``solid`` only from 20 tries."""
    rule = calls.Evidence.enough.fget
    return _with(calls.Evidence, "enough", property(lambda one: rule(one) and one.tries >= CALLED_FROM))


def calls_at_8_percent():
    """Replace ``calls.WRONG_SHARE``: 8 % of the calls are expected to be wrong."""
    return _with(calls, "WRONG_SHARE", 0.08)


@contextmanager
def calls_from_20_at_8():
    """Replace both of these: only from 20 tries, and 8 % expected to be wrong."""
    with calls_from_20_tries(), calls_at_8_percent():
        yield


def trends_from_95():
    """Replace ``calls.TREND_SURE``: ``up`` and ``down`` only from a probability of .95."""
    return _with(calls, "TREND_SURE", 0.95)


def average_observer():
    """Replace ``LinearPredictor.level``: no observer has an effect, as on an average one."""
    rule = LinearPredictor.level

    def level(predictor: LinearPredictor, kinds: Kinds) -> Array:
        design = rule(predictor, kinds)
        design[:, predictor.columns.of(Effect.OBSERVER)] = 0
        return design

    return _with(LinearPredictor, "level", level)


def one_mix_for_all():
    """Replace ``Kinds.seen``: every player under the kinds of try of all groups together."""
    rule = Kinds.seen
    return _with(Kinds, "seen", lambda kinds, group: rule(kinds, np.full(np.shape(group), -1)))


def the_skills_time():
    """Replace ``own_time``: from the skill's first day to its last, whoever was there."""

    def whole(cells: pd.DataFrame) -> dict:
        days = {skill: (part.min().date(), part.max().date()) for skill, part in
                cells.groupby("skill")["held_on"]}  # fmt: skip
        pairs = cells[["player", "skill"]].drop_duplicates()
        return {pair: days[pair[1]] for pair in pairs.itertuples(index=False, name=None)}

    return _with(standings, "own_time", whole)


def the_mode():
    """Replace ``Laplace.mean``: the coefficients at their mode, as if it were their mean."""
    return _with(Laplace, "mean", lambda laplace, mode: mode.v)
