"""How the coefficients of a mixed logit are laid out: many small blocks, bordered by what they share.

The information matrix of the coefficients is sparse. When the cells fall into parts that share only a few
coefficients (the levels of one term, or the skills of one player), it becomes block diagonal with a border:
``blocks`` (B, b, b), ``border`` (B, b, m) and ``corner`` (m, m). Its cost then grows with the number of
cells and blocks, no longer with the cube of the number of coefficients.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.sparse.csgraph import connected_components

Array = np.ndarray
CHUNK = 2048  # rows at a time, so that what is put aside stays in the cache


@dataclass(frozen=True)
class Design:
    """A sparse design: row i has the values ``values[i]`` in the columns ``columns[i]``, both (n, r)."""

    columns: Array
    values: Array
    width: int

    def is_same(self, other: "Design") -> bool:
        """Say whether another design is the same in every entry."""
        return (
            self.width == other.width
            and np.array_equal(self.columns, other.columns)
            and np.array_equal(self.values, other.values)
        )

    def matrix(self) -> sparse.csr_array:
        """Return the design as a sparse (n, width) matrix."""
        n, r = self.columns.shape
        pointers = np.arange(n + 1) * r
        return sparse.csr_array((self.values.ravel(), self.columns.ravel(), pointers), shape=(n, self.width))


@dataclass(frozen=True)
class Arrangement:
    """Where each coefficient lies: ``block`` is -1 in the corner, ``slot`` its place in there."""

    block: Array
    slot: Array
    blocks: int
    block_size: int
    corner_size: int

    @property
    def sizes(self) -> tuple[int, int, int]:
        """The number of entries in the blocks, the border and the corner."""
        inside = self.blocks * self.block_size
        return inside * self.block_size, inside * self.corner_size, self.corner_size**2

    def position(self, first: Array, second: Array) -> Array:
        """Return where the pair of coefficients is kept among all entries, -1 where it is not.

        Only one triangle is addressed: within a block and in the corner the larger slot is the row.
        """
        outer, inner = self.block[first], self.block[second]
        low, high = np.minimum(outer, inner), np.maximum(outer, inner)
        a, b = self.slot[first], self.slot[second]
        row, column = np.maximum(a, b), np.minimum(a, b)
        inside = (high * self.block_size + row) * self.block_size + column
        in_corner = self.sizes[0] + self.sizes[1] + row * self.corner_size + column
        of_block, of_corner = np.where(outer >= 0, a, b), np.where(outer >= 0, b, a)
        across = self.sizes[0] + (high * self.block_size + of_block) * self.corner_size + of_corner
        place = np.where(low >= 0, inside, np.where(high < 0, in_corner, across))
        return np.where((low >= 0) & (low != high), -1, place)

    def holds(self, design: Design) -> bool:
        """Say whether every cell of a design has its coefficients in the corner and in at most one block."""
        if design.width != len(self.block):
            return False
        block = np.where(design.values != 0, self.block[design.columns], -1)
        highest = block.max(1, initial=-1)
        return bool(((block < 0) | (block == highest[:, None])).all())

    @property
    def work(self) -> float:
        """Roughly the operations of one factorisation."""
        b, m = self.block_size, self.corner_size
        return self.blocks * (b**3 + b * b * m + b * m * m) + m**3


def arrange(design: Design, groups: Sequence[Array]) -> Arrangement:
    """Choose the cheapest arrangement.

    Parameters
    ----------
    design : the sparse design.
    groups : for each set of terms with the same codes, the columns of ``design.columns`` they fill.

    Notes
    -----
    Tried are: one dense block; one part for each level of a term; and the parts that hang together
    when the effects of one set of terms, and the fixed effects, are taken out.
    """
    n = len(design.columns)
    parts = [np.zeros(n, int)]
    for group in groups:
        parts.append(np.unique(design.columns[:, group[0]], return_inverse=True)[1])
        others = [other for other in groups if other is not group]
        parts.append(_hanging_together(design, np.concatenate([np.empty(0, int), *others])))
    return min((_placed(design, part) for part in parts), key=lambda arrangement: arrangement.work)


def _hanging_together(design: Design, kept: Array) -> Array:
    n, cells = len(design.columns), np.repeat(np.arange(len(design.columns)), len(kept))
    columns, values = design.columns[:, kept].ravel(), design.values[:, kept].ravel()
    linked = values != 0
    size = n + design.width
    links = sparse.coo_array((linked[linked], (cells[linked], n + columns[linked])), shape=(size, size))
    found = connected_components(links, directed=False)[1][:n]
    return np.unique(found, return_inverse=True)[1]


def _placed(design: Design, part: Array) -> Arrangement:
    count = int(part.max(initial=0)) + 1
    first, last = np.full(design.width, count), np.full(design.width, -1)
    used = design.values != 0
    of_entry = np.broadcast_to(part[:, None], used.shape)[used]
    np.minimum.at(first, design.columns[used], of_entry)
    np.maximum.at(last, design.columns[used], of_entry)
    block = np.where(first == last, first, -1)
    unused = np.flatnonzero(last < 0)
    block[unused] = np.arange(len(unused)) % count
    slot = np.empty(design.width, int)
    order = np.argsort(block, kind="stable")
    starts = np.searchsorted(block[order], block[order])
    slot[order] = np.arange(design.width) - starts
    inside = slot[block >= 0]
    return Arrangement(block, slot, count, int(inside.max(initial=-1)) + 1, int(np.sum(block < 0)))


def pair_map(design: Design, arrangement: Arrangement) -> sparse.csr_array:
    """Return the (n, entries) matrix whose transpose turns weights of cells into the information matrix.

    Entry e of the information matrix is the sum over cells of weight times the product of two design
    values, so it is linear in the weights. The matrix itself turns a covariance into each cell's variance.
    """
    n, r = design.columns.shape
    one, two = np.tril_indices(r)
    product, place = np.empty((n, len(one))), np.empty((n, len(one)), np.int32)
    for start in range(0, n, CHUNK):
        rows = slice(start, start + CHUNK)
        columns, values = design.columns[rows], design.values[rows]
        product[rows] = values[:, one] * values[:, two]
        where = arrangement.position(columns[:, one], columns[:, two])
        place[rows] = np.where(product[rows] != 0, where, 0)
    pointers = np.arange(n + 1, dtype=np.int32) * len(one)
    shape = (n, sum(arrangement.sizes))
    return sparse.csr_array((product.ravel(), place.ravel(), pointers), shape=shape)
