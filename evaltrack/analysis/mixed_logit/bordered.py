"""Linear algebra of a block diagonal matrix with a border: factor, solve, invert where it is needed."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from evaltrack.analysis.mixed_logit.arrangement import Arrangement

Array = np.ndarray


UNTHREADED = 200_000
SMALL = 32


def _swap(a: Array) -> Array:
    return a.swapaxes(-1, -2)


def _times(a: Array, b: Array) -> Array:
    """Return a @ b, in slices of columns so small that the library does not start threads for them.

    Waiting for threads costs more than they save on matrices of this size, and a lot more when another
    program has the processor.
    """
    work = a.shape[-2] * a.shape[-1] * b.shape[-1]
    if work <= UNTHREADED:
        return a @ b
    return np.concatenate([a @ part for part in np.array_split(b, -(-work // UNTHREADED), axis=-1)], axis=-1)


def _inverse_of_lower(a: Array) -> Array:
    """Return the inverse of lower triangular matrices (..., n, n), half by half.

    A third of the work of a general inverse, and in products small enough not to start threads.
    """
    half = a.shape[-1] // 2
    if 2 * half <= SMALL:
        return np.linalg.inv(a)
    found = np.zeros_like(a)
    found[..., :half, :half] = first = _inverse_of_lower(a[..., :half, :half])
    found[..., half:, half:] = last = _inverse_of_lower(a[..., half:, half:])
    found[..., half:, :half] = -_times(last, _times(a[..., half:, :half], first))
    return found


@dataclass(frozen=True)
class Factor:
    """The Cholesky factor of a bordered matrix, by the Schur complement of its blocks.

    ``root`` is the inverse of the blocks' factors (B, b, b), ``tall`` is root times border (B, b, m),
    ``corner_root`` the inverse of the factor of the Schur complement (m, m).
    """

    arrangement: Arrangement
    root: Array
    tall: Array
    corner_root: Array
    log_det: float

    def solve(self, right: Array) -> Array:
        """Return x with matrix times x = right, both in the order of the coefficients."""
        where, inside = self.arrangement, self.arrangement.block >= 0
        upper = np.zeros((where.blocks, where.block_size))
        lower = np.zeros(where.corner_size)
        upper[where.block[inside], where.slot[inside]] = right[inside]
        lower[where.slot[~inside]] = right[~inside]
        half = (self.root @ upper[..., None])[..., 0]
        warm_start = lower - (_swap(self.tall) @ half[..., None])[..., 0].sum(0)
        corner = self.corner_root.T @ (self.corner_root @ warm_start)
        blocks = (_swap(self.root) @ (half - self.tall @ corner)[..., None])[..., 0]
        found = np.empty(len(right))
        found[inside] = blocks[where.block[inside], where.slot[inside]]
        found[~inside] = corner[where.slot[~inside]]
        return found

    def inverse(self) -> Array:
        """Return the entries of the inverse that the arrangement keeps, as one flat array."""
        return self._inverse

    @cached_property
    def _inverse(self) -> Array:
        corner = _times(self.corner_root.T, self.corner_root)
        tall = _times(_swap(self.root), self.tall)
        border = _times(-tall, corner)
        blocks = _times(_swap(self.root), self.root) - _times(border, _swap(tall))
        return np.concatenate([blocks.ravel(), border.ravel(), corner.ravel()])

    def covariances(self, first: Array, second: Array) -> Array:
        """Return entries of the inverse for any pairs of coefficients, kept or not.

        Two blocks meet only through the corner: their part of the inverse is tall corner tall'.
        """
        place = self.arrangement.position(first, second)
        found = self._inverse[place]
        apart = place < 0
        if apart.any():
            one, two = (
                self._reach[self.arrangement.block[at], self.arrangement.slot[at]]
                for at in (first[apart], second[apart])
            )
            found[apart] = np.sum(one * two, axis=-1)
        return found

    @cached_property
    def _reach(self) -> Array:
        return _times(_times(_swap(self.root), self.tall), self.corner_root.T)


def factorise(entries: Array, arrangement: Arrangement) -> Factor:
    """Factor the matrix with these entries; LinAlgError when it is not positive definite."""
    b, m = arrangement.block_size, arrangement.corner_size
    inside, across, _ = arrangement.sizes
    blocks = np.linalg.cholesky(entries[:inside].reshape(arrangement.blocks, b, b))
    root = _inverse_of_lower(blocks)
    tall = _times(root, entries[inside : inside + across].reshape(arrangement.blocks, b, m))
    warm_start = entries[inside + across :].reshape(m, m) - _times(_swap(tall), tall).sum(0)
    corner = np.linalg.cholesky(warm_start)
    diagonals = np.concatenate([_diagonal(blocks).ravel(), _diagonal(corner)])
    log_det = 2 * float(np.log(diagonals).sum())
    return Factor(arrangement, root, tall, _inverse_of_lower(corner), log_det)


def _diagonal(matrix: Array) -> Array:
    return np.diagonal(matrix, axis1=-2, axis2=-1)


def padding(arrangement: Arrangement) -> Array:
    """Return the places on the blocks' diagonals that no coefficient fills; they must hold a one."""
    filled = np.zeros((arrangement.blocks, arrangement.block_size), bool)
    inside = arrangement.block >= 0
    filled[arrangement.block[inside], arrangement.slot[inside]] = True
    block, slot = np.nonzero(~filled)
    return (block * arrangement.block_size + slot) * arrangement.block_size + slot
