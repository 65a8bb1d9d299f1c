"""Whether fixed effects tell done from missed so well that their estimates have no finite maximum."""

import numpy as np
from scipy.optimize import linprog

Array = np.ndarray


def separated(done: Array, tries: Array, fixed: Array) -> bool:
    """Say whether some direction of the fixed effects makes every cell likelier, or as likely.

    Then the likelihood has no maximum (Albert and Anderson 1984, Biometrika 71:1-10). Found exactly by
    a linear programme: maximise the sum of signed predictors over directions that lower none, where a
    cell with both done and missed must not move.
    """
    seen = tries > 0
    sign = np.where(done == tries, 1.0, np.where(done == 0, -1.0, 0.0))[seen]
    rows = np.unique(np.column_stack([sign, fixed[seen]]), axis=0)
    size = np.abs(fixed).max(0, initial=0.0)
    sign, rows = rows[:, 0], rows[:, 1:] / np.where(size > 0, size, 1.0)
    if not rows.size:
        return False
    pushed, held = rows[sign != 0] * sign[sign != 0, None], rows[sign == 0]
    if not len(pushed):
        return False
    found = linprog(-pushed.sum(0), A_ub=-pushed, b_ub=np.zeros(len(pushed)),
                    A_eq=held if len(held) else None, b_eq=np.zeros(len(held)) if len(held) else None,
                    bounds=(-1, 1))  # fmt: skip
    return bool(found.status == 0 and -found.fun > 1e-7)
