"""The sparse design of a mixed logit's coefficients: fixed effects first, then each term's effects."""

import numpy as np

from evaltrack.analysis.mixed_logit.arrangement import Design
from evaltrack.analysis.mixed_logit.laplace import Laplace
from evaltrack.analysis.mixed_logit.problem import Cells

Array = np.ndarray


def laplace_of(
    cells: Cells,
    fixed_mean: Array | None = None,
    fixed_sd: Array | None = None,
    known: Laplace | None = None,
) -> Laplace:
    """Return the Laplace likelihood of the cells.

    With ``fixed_sd`` the fixed effects are coefficients too, with normal priors. Without it they are
    left out, and enter through the offset. ``known`` is that of much the same cells, and saves laying these
    out again.
    """
    k = 0 if fixed_sd is None else cells.columns
    columns, values = _compact(cells.fixed[:, :k])
    starts = cells.starts - cells.columns + k
    codes = [term.codes + start for term, start in zip(cells.terms, starts, strict=False)]
    weights = [np.ones(len(cells.done)) if term.weights is None else term.weights for term in cells.terms]
    design = Design(_beside(columns, codes).astype(int), _beside(values, weights), int(starts[-1]))
    sizes = [k, *(term.size for term in cells.terms)]
    term_of = np.repeat(np.arange(-1, len(cells.terms)), sizes)
    precision, mean = np.ones(design.width), np.zeros(design.width)
    if k:
        precision[:k], mean[:k] = fixed_sd**-2.0, fixed_mean
    if known and known.is_of(design, term_of, precision, mean):
        return known.with_counts(cells.done, cells.tries)
    groups = [group + columns.shape[1] for group in _same_codes(cells)]
    alike = known and known.arrangement
    return Laplace(cells.done, cells.tries, design, term_of, precision, mean, groups, alike)


def _beside(left: Array, others: list[Array]) -> Array:
    return np.column_stack([left, *others]) if others else left


def _compact(fixed: Array) -> tuple[Array, Array]:
    """Return the columns and values of the entries that are not zero, as few a row as possible."""
    used = fixed != 0
    width = int(used.sum(1).max(initial=0))
    columns = np.argsort(~used, axis=1, kind="stable")[:, :width]
    return columns, np.take_along_axis(fixed, columns, 1)


def _same_codes(cells: Cells) -> list[Array]:
    groups: list[list[int]] = []
    for number, term in enumerate(cells.terms):
        for group in groups:
            if np.array_equal(cells.terms[group[0]].codes, term.codes):
                group.append(number)
                break
        else:
            groups.append([number])
    return [np.array(group) for group in groups]
