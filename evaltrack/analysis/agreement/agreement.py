"""How far two observers who watched the same tries agree, and how sure that is.

Tables are counts: what the first observer saw in the rows, the second in the columns, in one order of
outcomes. Tries of the same minute hang together, so each minute has a table of its own.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from evaltrack.analysis.agreement.clustered import coefficient_interval, share_below, share_interval
from evaltrack.analysis.agreement.pairing import Pair, Pairing, pair_practice
from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.tally import Outcome

ENOUGH = 0.8  # raw share; Nadeau, Godbout & Richard (2008), J Sports Sci: 80 to 82 % by trained eyes on video
FEWEST_TRIES = 20  # of one skill, to be named as one they split on
ALL = "all"
_MINUTE = 60_000

COLUMNS = (
    "first", "second", "skill", "tries", "minutes", "share", "share_low", "share_high", "p_below",
    "kappa", "kappa_low", "kappa_high", "ac1", "ac1_low", "ac1_high",
    "first_done", "second_done", "difference", "difference_low", "difference_high",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """How far two observers agree in one skill, or in ``all``.

    ``tries`` were seen by both, in ``minutes`` different minutes. ``share`` is the raw share agreed,
    ``p_below`` the probability that it is under ``ENOUGH``; ``kappa`` is Cohen's, None where it is not
    defined, ``ac1`` Gwet's. ``first_done`` and ``second_done`` count each one's dones, ``difference`` is
    the first one's share done minus the second's. Intervals are of 90 %, None where there is no ground
    for one.
    """

    first: str
    second: str
    skill: str
    tries: int
    minutes: int
    share: float
    share_low: float | None
    share_high: float | None
    p_below: float | None
    kappa: float | None
    kappa_low: float | None
    kappa_high: float | None
    ac1: float
    ac1_low: float | None
    ac1_high: float | None
    first_done: int
    second_done: int
    difference: float
    difference_low: float | None
    difference_high: float | None


@dataclass(frozen=True, slots=True)
class Agreement:
    """All observers of the season, what each two of them both watched, and how far they agree there."""

    observers: tuple[str, ...]
    pairings: tuple[Pairing, ...]
    rows: tuple[Row, ...]


def read_agreement(season, practice: str | None = None) -> Agreement:
    """Return the agreement of every two observers of the season or of a practice, over all and by skill."""
    observers, pairings = set(), []
    for key in [practice] if practice else [one.key for one in season.practices.all()]:
        tallies = season.log.tallies(key)
        observers |= {tally.observer for tally in tallies if tally.outcome is not Outcome.UNSEEN}
        pairings += pair_practice(tallies)
    order = [skill.key for skill in season.catalogue.skills(retired=True)]
    names = tuple(sorted(observers, key=by_letters))
    return Agreement(names, tuple(pairings), tuple(compare(pairings, order)))


def compare(pairings: Sequence[Pairing], skills: Iterable[str]) -> list[Row]:
    """Return for each two observers a row over all and one for each skill, in the order of ``skills``."""
    rows = []
    for names in sorted({(p.first, p.second) for p in pairings if p.pairs}, key=_by_names):
        own = [p for p in pairings if (p.first, p.second) == names]
        for skill in (ALL, *skills):
            tables = minute_tables(own, None if skill == ALL else skill)
            if len(tables):
                rows.append(row_of(names, skill, tables))
    return rows


def _by_names(names: tuple[str, str]) -> tuple:
    return tuple(map(by_letters, names))


def split_most(rows: Iterable[Row]) -> Row | None:
    """Return the row of the skill that two observers split on most, None when none has tries enough.

    A skill in which one of them is surely stricter comes first: shares agreed can hardly be told apart.
    """
    known = [row for row in rows if row.skill != ALL and row.tries >= FEWEST_TRIES and row.share < 1]
    stricter = [row for row in known if is_stricter(row)]
    most = max(stricter, key=lambda row: abs(row.difference), default=None)
    return most or min(known, key=lambda row: row.share, default=None)


def is_stricter(row: Row) -> bool:
    """Say whether one of the two surely counts fewer dones: zero lies outside the difference's interval."""
    return row.difference_low is not None and (row.difference_low > 0 or row.difference_high < 0)


def minute_tables(pairings: Iterable[Pairing], skill: str | None = None) -> np.ndarray:
    """Return a 2 x 2 table (done, missed) for each minute in which both watched the skill, or any."""
    tables: dict[tuple, np.ndarray] = {}
    for number, pairing in enumerate(pairings):
        for pair in pairing.pairs:
            if skill in (None, pair[0].skill):
                minute = (pair[0].at - pairing.pairs[0][0].at) // _MINUTE
                tables.setdefault((number, minute), np.zeros((2, 2), int))[_cell(pair)] += 1
    return np.array(list(tables.values())).reshape(-1, 2, 2)


def raw_share(tables: np.ndarray) -> np.ndarray:
    """Return the share on which both agree, of tables (..., k, k)."""
    return np.trace(tables, axis1=-2, axis2=-1) / tables.sum((-2, -1))


def cohen_kappa(tables: np.ndarray) -> np.ndarray:
    """Return Cohen's kappa of tables (..., k, k); nan where both only ever saw the same one outcome.

    Cohen (1960), Educ Psychol Meas 20:37-46.
    """
    shares = tables / tables.sum((-2, -1))[..., None, None]
    expected = (shares.sum(-1) * shares.sum(-2)).sum(-1)
    # one is left over only by rounding where all is one outcome
    left = np.where(1 - expected > 1e-12, 1 - expected, np.nan)
    return (raw_share(tables) - expected) / left


def gwet_ac1(tables: np.ndarray) -> np.ndarray:
    """Return Gwet's AC1 of tables (..., k, k), which stays sound where nearly all is one outcome.

    Gwet (2008), Br J Math Stat Psychol 61:29-48.
    """
    use = (tables.sum(-1) + tables.sum(-2)) / (2 * tables.sum((-2, -1))[..., None])
    expected = (use * (1 - use)).sum(-1) / (tables.shape[-1] - 1)
    return (raw_share(tables) - expected) / (1 - expected)


def done_difference(tables: np.ndarray) -> np.ndarray:
    """Return the first observer's share done minus the second's, of tables (..., 2, 2)."""
    return (tables[..., 0, 1] - tables[..., 1, 0]) / tables.sum((-2, -1))


def _cell(pair: Pair) -> tuple[int, int]:
    return tuple(int(tally.outcome is Outcome.MISSED) for tally in pair)


def row_of(names: tuple[str, str], skill: str, tables: np.ndarray) -> Row:
    """Return the row of two observers and a skill from the tables (minutes, 2, 2) of its minutes."""
    whole = tables.sum(0)
    kappa = float(cohen_kappa(whole))
    return Row(
        *names,
        skill,
        int(whole.sum()),
        len(tables),
        float(raw_share(whole)),
        *share_interval(raw_share, tables),
        share_below(raw_share, tables, ENOUGH),
        None if np.isnan(kappa) else kappa,
        *coefficient_interval(cohen_kappa, tables),
        float(gwet_ac1(whole)),
        *coefficient_interval(gwet_ac1, tables),
        int(whole[0].sum()),
        int(whole[:, 0].sum()),
        float(done_difference(whole)),
        *coefficient_interval(done_difference, tables),
    )
