"""The effects in the linear predictor of a try, by name, and which columns hold their coefficients.

Everything else asks for a coefficient by the name of its effect. The orders below are the only places where
one effect stands before another.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

import numpy as np

Array = np.ndarray


class Covariate(Enum):
    """What a coefficient is multiplied by in the linear predictor: one, the time, or the pressure.

    ``MET`` is one where it is known whom the player met, and zero elsewhere.
    """

    ONE = "one"
    TIME = "time"
    PRESSURE = "pressure"
    MET = "met"


class Effect(Enum):
    """What a try's linear predictor is the sum of, each with its covariate.

    ``MEAN``, ``TREND`` and ``PRESSURE`` are each skill's own (the mean also each group's), their ``COMMON_``
    parts are of all skills together. ``LEVEL`` and ``SLOPE`` are of a player in one skill, their ``SHARED_``
    parts of a player in all skills. ``STEP``, ``OBSERVER`` and ``PRACTICE`` are each skill's own too.
    ``OPPONENT`` is of whoever was met, in one skill.
    """

    MEAN = ("mean", Covariate.ONE)
    TREND = ("trend", Covariate.TIME)
    PRESSURE = ("pressure", Covariate.PRESSURE)
    COMMON_TREND = ("common trend", Covariate.TIME)
    COMMON_PRESSURE = ("common pressure", Covariate.PRESSURE)
    LEVEL = ("level", Covariate.ONE)
    SLOPE = ("slope", Covariate.TIME)
    STEP = ("step", Covariate.ONE)
    OBSERVER = ("observer", Covariate.ONE)
    PRACTICE = ("practice", Covariate.ONE)
    SHARED_LEVEL = ("shared level", Covariate.ONE)
    SHARED_SLOPE = ("shared slope", Covariate.TIME)
    OPPONENT = ("opponent", Covariate.MET)

    def __init__(self, _words: str, covariate: Covariate):
        self.covariate = covariate


# the fit: fixed effects, then random effects, of which those that are shared and those of opponents may be
# missing
FIXED = (Effect.MEAN, Effect.TREND, Effect.PRESSURE, Effect.COMMON_TREND, Effect.COMMON_PRESSURE)
RANDOM = (Effect.LEVEL, Effect.SLOPE, Effect.STEP, Effect.OBSERVER, Effect.PRACTICE)
SHARED = (Effect.SHARED_LEVEL, Effect.SHARED_SLOPE)
MET = (Effect.OPPONENT,)

# a player's share as the season's observers see it on an ordinary day, against those whom the group met
SHARE = (
    Effect.MEAN, Effect.TREND, Effect.PRESSURE, Effect.LEVEL, Effect.SLOPE, Effect.STEP, Effect.OBSERVER,
    Effect.COMMON_TREND, Effect.COMMON_PRESSURE, *SHARED, *MET,
)  # fmt: skip

# what changes from try to try: a skill has several of each, and one of them acts
OF_TRY = frozenset({Effect.STEP, Effect.OBSERVER, Effect.PRACTICE, Effect.OPPONENT})


@dataclass(frozen=True)
class Columns:
    """Which columns hold the coefficients of which effect: side by side, as many as ``sizes`` says."""

    sizes: Mapping[Effect, int]

    @cached_property
    def _starts(self) -> dict[Effect, int]:
        ends = np.cumsum([*self.sizes.values()]).tolist()
        return {effect: end - self.sizes[effect] for effect, end in zip(self.sizes, ends, strict=True)}

    @property
    def width(self) -> int:
        """The number of columns."""
        return sum(self.sizes.values())

    def of(self, effect: Effect) -> Array:
        """Return the columns (size,) of an effect; KeyError where it has none."""
        return self._starts[effect] + np.arange(self.sizes[effect])

    def spread_out(self, values: Mapping[Effect, float]) -> Array:
        """Return each effect's value in all its columns, (width,)."""
        return np.repeat([values[effect] for effect in self.sizes], [*self.sizes.values()])
