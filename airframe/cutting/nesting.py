"""Nesting: outlines laid on sheets without overlap, on a grid, the same way on every machine for the same seed.

The sheet is a grid of small cells. A part covers every cell whose centre lies within half the gap, and half
a cell's diagonal, of it. Two parts nearer than the gap have a point within half the gap of both, and
the cell centre nearest to that point is covered by both: so parts that share no cell keep the gap. Where
a part may go is found for all places of the sheet at once by a convolution (fast Fourier transform).

Why not a library: the strip packer spyrrow (0.9, one worker, a fixed seed) laid the same twenty parts differently
in each of three runs, for it stops by the clock, and it knows one endless strip, not a stack of sheets.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, hypot

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array

CELL_MM = 0.5
GRID_CELLS = 100_000
"""About how many cells the largest sheet is parted into; a small sheet gets small cells, down to CELL_MM."""
CELLS_PER_SECOND = 20e6
"""Grid cells searched in a nominal second: the search is bounded by this count and not by the clock, so that it ends
the same way on every machine. About what one core of a laptop does (measured once)."""
SHUFFLE = 0.35
"""How far chance moves a part from its rank by size, as a share of its size."""

_TIGHT_MM = 1e-6

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Piece:
    """An outline to lay down: its corners (n, 2), from (0, 0) to its size."""

    corners: Array

    @property
    def area(self) -> float:
        """Enclosed area (mm^2)."""
        x, y = self.corners.T
        return float(abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0)


@dataclass(frozen=True)
class Bin:
    """The usable rectangle of one sheet, and the quarter turns that its grain allows a piece."""

    length_mm: float
    width_mm: float
    quarters: tuple[int, ...] = (0, 1, 2, 3)

    def takes(self, size: tuple[float, float], quarters: int) -> bool:
        """Whether a piece of this size goes in, turned so."""
        length, width = (size[1], size[0]) if quarters % 2 else size
        return length <= self.length_mm + _TIGHT_MM and width <= self.width_mm + _TIGHT_MM


@dataclass(frozen=True)
class Spot:
    """Where a piece lies: in which bin, turned how, its lower left corner where."""

    bin: int
    quarters: int
    x_mm: float
    y_mm: float


@dataclass(frozen=True)
class Nest:
    """One way to lay everything down."""

    spots: tuple[Spot | None, ...]
    """For each piece; None where no bin has room."""
    reach: tuple[tuple[int, float], ...]
    """Each bin that is used, and how far from its left end."""

    @property
    def cost(self) -> tuple[float, ...]:
        """Less is better: pieces left over, bins used, then how much of the last bin."""
        return (sum(spot is None for spot in self.spots), len(self.reach), self.reach[-1][1] if self.reach else 0.0)


def nest(
    pieces: Sequence[Piece],
    bins: Sequence[Bin],
    gap_mm: float,
    seconds: float,
    seed: int,
    tell: Callable[[int, int], None] = lambda done, cost: None,
) -> Nest:
    """The best nest found within the nominal seconds; at least one order of the pieces is tried.

    Bins are filled in turn. Tells how many orders have been tried and how many bins the best one takes.
    """
    table = _Table(pieces, bins, gap_mm)
    budget = seconds * CELLS_PER_SECOND
    best: Nest | None = None
    for tried, order in enumerate(_orders(pieces, seed), 1):
        found = table.laid(order)
        if best is None or found.cost < best.cost:
            best = found
        tell(tried, len(best.reach))
        if not table.cells_searched * (tried + 1) / tried <= budget or len(pieces) == 1:
            break
    assert best is not None
    return best


def _orders(pieces: Sequence[Piece], seed: int) -> Iterator[list[int]]:
    """Largest area first, longest first, then by area with chance in it, for ever."""
    chance = np.random.default_rng(seed)
    areas = np.array([piece.area for piece in pieces])
    lengths = np.array([float(np.hypot(*np.ptp(piece.corners, axis=0))) for piece in pieces])
    yield np.argsort(-areas, kind="stable").tolist()
    yield np.argsort(-lengths, kind="stable").tolist()
    while True:
        key = (areas, lengths)[int(chance.integers(2))]
        yield np.argsort(-key * (1.0 + SHUFFLE * chance.uniform(-1.0, 1.0, len(pieces))), kind="stable").tolist()


class _Table:
    """Masks of all pieces, made once, and the filling of bins."""

    def __init__(self, pieces: Sequence[Piece], bins: Sequence[Bin], gap_mm: float) -> None:
        self._pieces, self._bins, self._gap_mm = pieces, bins, gap_mm
        largest = max(one.length_mm * one.width_mm for one in bins)
        self._cell_mm: float = max(CELL_MM, (largest / GRID_CELLS) ** 0.5)
        self._masks: dict[tuple[bytes, int], Mask] = {}
        self.cells_searched = 0.0

    def laid(self, order: Sequence[int]) -> Nest:
        """Every piece in this order, each in the first bin that has room, as far left and then as low as it goes."""
        grids: list[Mask] = []
        spots: list[Spot | None] = [None] * len(self._pieces)
        reach: dict[int, float] = {}
        for number in order:
            for index in range(len(self._bins)):
                if index == len(grids):
                    grids.append(self._empty(self._bins[index]))
                spot = self._spot(grids[index], index, self._pieces[number])
                if spot is not None:
                    spots[number] = spot
                    right = spot.x_mm + _extent(self._pieces[number], spot.quarters)[0]
                    reach[index] = max(reach.get(index, 0.0), right)
                    break
        return Nest(tuple(spots), tuple(sorted(reach.items())))

    @property
    def _rim(self) -> int:
        """Cells round a piece's box that its mask may cover, for the gap; the grid has them round the sheet too."""
        reach: float = self._gap_mm / 2.0 + self._cell_mm * hypot(0.5, 0.5)
        return ceil(reach / self._cell_mm) + 1

    def _empty(self, one: Bin) -> Mask:
        cells = (int(one.length_mm // self._cell_mm) + 3, int(one.width_mm // self._cell_mm) + 3)
        return np.zeros((cells[0] + 2 * self._rim, cells[1] + 2 * self._rim), dtype=np.bool_)

    def _spot(self, grid: Mask, index: int, piece: Piece) -> Spot | None:
        """The leftmost, then lowest place in one bin over all turns, its cells taken; None without room."""
        one, size = self._bins[index], _extent(piece, 0)
        found: list[tuple[float, int, int, int]] = []
        seen: set[bytes] = set()
        for quarters in one.quarters:
            mask = self._mask(piece, quarters) if one.takes(size, quarters) else None
            if mask is None or mask.tobytes() in seen:
                continue
            seen.add(mask.tobytes())
            place = self._first_place(grid, one, mask, _extent(piece, quarters))
            if place is not None:
                right = place[0] * self._cell_mm + _extent(piece, quarters)[0]
                found.append((right, place[1], place[0], quarters))
        if not found:
            return None
        _, y, x, quarters = min(found)
        mask = self._mask(piece, quarters)
        grid[x : x + mask.shape[0], y : y + mask.shape[1]] |= mask
        return Spot(index, quarters, x * self._cell_mm, y * self._cell_mm)

    def _first_place(self, grid: Mask, one: Bin, mask: Mask, size: tuple[float, float]) -> tuple[int, int] | None:
        """Steps of the grid from the bin's corner to the piece's, as far left and then as low as there is room."""
        x_steps = int((one.length_mm - size[0] + _TIGHT_MM) // self._cell_mm)
        y_steps = int((one.width_mm - size[1] + _TIGHT_MM) // self._cell_mm)
        searched = grid[: x_steps + mask.shape[0], : y_steps + mask.shape[1]]
        self.cells_searched += searched.size
        free = np.argwhere(_hits(searched, mask) < 0.5)
        return (int(free[0][0]), int(free[0][1])) if len(free) else None

    def _mask(self, piece: Piece, quarters: int) -> Mask:
        key = (piece.corners.tobytes(), quarters)
        if key not in self._masks:
            self._masks[key] = self._covered(turned(piece.corners, quarters))
        return self._masks[key]

    def _covered(self, corners: Array) -> Mask:
        import shapely

        reach = self._gap_mm / 2.0 + self._cell_mm * hypot(0.5, 0.5)
        # Chords of a rounded buffer lie inside it: reach a little further, so that none of it is lost.
        area = shapely.Polygon(corners).buffer(reach * 1.01, quad_segs=16)
        size = corners.max(axis=0)
        counts = [ceil(float(size[axis]) / self._cell_mm) + 2 * self._rim + 1 for axis in (0, 1)]
        x, y = ((np.arange(count) - self._rim + 0.5) * self._cell_mm for count in counts)
        shapely.prepare(area)
        grid_x, grid_y = np.meshgrid(x, y, indexing="ij")
        return np.asarray(shapely.contains_xy(area, grid_x, grid_y), dtype=np.bool_)


def _hits(grid: Mask, mask: Mask) -> Array:
    """For each place of the mask on the grid, how many of its cells are taken (cross-correlation theorem).

    Single precision tells counts up to a hundred thousand apart from none by far.
    """
    places = tuple(g - m + 1 for g, m in zip(grid.shape, mask.shape, strict=True))
    if not grid.any():
        return np.zeros(places)
    size = tuple(_smooth(count) for count in grid.shape)
    spectra = [np.fft.rfft2(cells.astype(np.float32), size) for cells in (grid, mask)]
    hits: Array = np.fft.irfft2(spectra[0] * spectra[1].conj(), size)[: places[0], : places[1]]
    return hits


def _smooth(count: int) -> int:
    """The next number made of twos, threes and fives, which transforms fast."""
    while True:
        rest = count
        for factor in (2, 3, 5):
            while rest % factor == 0:
                rest //= factor
        if rest == 1:
            return count
        count += 1


def turned(corners: Array, quarters: int) -> Array:
    """Corners turned by quarter turns, lower left corner at the origin again."""
    turn = np.linalg.matrix_power(np.array([[0.0, -1.0], [1.0, 0.0]]), quarters % 4)
    points = corners @ turn.T
    moved: Array = points - points.min(axis=0)
    return moved


def _extent(piece: Piece, quarters: int) -> tuple[float, float]:
    length, width = np.ptp(piece.corners, axis=0)
    return (float(width), float(length)) if quarters % 2 else (float(length), float(width))
