"""Linear algebra of a block diagonal matrix with a border: factor, solve, invert where it is needed."""

from dataclasses import dataclass

import numpy as np

from evaltrack.analysis.arrangement import Arrangement

Array = np.ndarray


def _swap(a: Array) -> Array:
    return a.swapaxes(-1, -2)


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
        rest = lower - np.tensordot(self.tall, half, ([0, 1], [0, 1]))
        corner = self.corner_root.T @ (self.corner_root @ rest)
        blocks = (_swap(self.root) @ (half - self.tall @ corner)[..., None])[..., 0]
        found = np.empty(len(right))
        found[inside] = blocks[where.block[inside], where.slot[inside]]
        found[~inside] = corner[where.slot[~inside]]
        return found

    def inverse(self) -> Array:
        """Return the entries of the inverse that the arrangement keeps, as one flat array."""
        corner = self.corner_root.T @ self.corner_root
        tall = _swap(self.root) @ self.tall
        border = -tall @ corner
        blocks = _swap(self.root) @ self.root - border @ _swap(tall)
        return np.concatenate([blocks.ravel(), border.ravel(), corner.ravel()])

    def covariances(self, first: Array, second: Array) -> Array:
        """Return entries of the inverse for any pairs of coefficients, kept or not.

        Two blocks meet only through the corner: their part of the inverse is tall corner tall'.
        """
        place = self.arrangement.position(first, second)
        found = self.inverse()[place]
        apart = place < 0
        if apart.any():
            tall = _swap(self.root) @ self.tall @ self.corner_root.T
            one, two = (
                tall[self.arrangement.block[at], self.arrangement.slot[at]]
                for at in (first[apart], second[apart])
            )
            found[apart] = np.sum(one * two, axis=-1)
        return found


def factorise(entries: Array, arrangement: Arrangement) -> Factor:
    """Factor the matrix with these entries; LinAlgError when it is not positive definite."""
    b, m = arrangement.block_size, arrangement.corner_size
    inside, across, _ = arrangement.sizes
    blocks = np.linalg.cholesky(entries[:inside].reshape(arrangement.blocks, b, b))
    root = np.linalg.inv(blocks)
    tall = root @ entries[inside : inside + across].reshape(arrangement.blocks, b, m)
    flat = tall.reshape(arrangement.blocks * b, m)
    corner = np.linalg.cholesky(entries[inside + across :].reshape(m, m) - flat.T @ flat)
    diagonals = np.concatenate([_diagonal(blocks).ravel(), _diagonal(corner)])
    log_det = 2 * float(np.log(diagonals).sum())
    return Factor(arrangement, root, tall, np.linalg.inv(corner), log_det)


def _diagonal(matrix: Array) -> Array:
    return np.diagonal(matrix, axis1=-2, axis2=-1)


def padding(arrangement: Arrangement) -> Array:
    """Return the places on the blocks' diagonals that no coefficient fills; they must hold a one."""
    filled = np.zeros((arrangement.blocks, arrangement.block_size), bool)
    inside = arrangement.block >= 0
    filled[arrangement.block[inside], arrangement.slot[inside]] = True
    block, slot = np.nonzero(~filled)
    return (block * arrangement.block_size + slot) * arrangement.block_size + slot
