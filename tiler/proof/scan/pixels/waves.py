"""Where strokes follow each other at a wanted pitch: as a wave in tiles of a picture, and along how far a line.

Tiles of a coarse copy in whose spectrum a wave of about the pitch stands out show where there is one and how it
runs (a periodogram with a Hann window: Bracewell, *The Fourier Transform and Its Applications*, from memory). From
there it is followed to both sides: the phase in block after block tells how many cycles make a millimetre, each time
over twice the length, so that none is lost or counted twice.

Places are mm as the picture states them, x to the right and y down; so many ``pixels`` make 1 mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tiler.proof.scan.pixels.picture import Floats, Grey

TILE = 16.0
"""A tile is so wide, mm."""

ABOUT = 0.06
"""Share by which the wave of a tile may differ from a wanted one: a tile holds only so many strokes."""

STANDS_OUT = 30.0
"""In power, so many times the median of the waves round about."""

ALONE, APART = 3.0, 0.34
"""And so many times that of waves shorter or longer by this share: the edge of a line has waves of all lengths."""

MOST_TILES = 60
"""So many of the strongest tiles are followed at most."""

REACHES = (12.0, 24.0, 48.0, 96.0, 192.0, 384.0)
"""So far to both sides a wave is followed, again and again, mm."""

BLOCK = 8.0
"""Its phase is told in blocks of this length, mm."""

BESIDE = 4.0
"""So far beside it the picture is looked at, mm."""

HIGHEST = 0.4
"""Where all strokes stand the power is no smaller a share of its greatest: of the longer ones alone it is less."""

SHORTEST, TALLEST = 1.0, 8.0
"""All strokes of a comb are so long at least, and no longer at most, mm: ruled and squared paper has other lines."""

STRONG, TOGETHER = 0.15, 0.6
"""A block has a wave when its power is so large a share of that of others, and when all rows have about one phase."""

LEAST_BLOCKS = 5
"""A wave of fewer blocks, which overlap by half, is too short."""


@dataclass(frozen=True)
class Track:
    """A line along which a wave runs: a point, a direction, cycles to 1 mm, and between what it stands on its right."""

    at: Floats
    along: Floats
    cycles: float
    low: float
    high: float


def waves_in(small: Grey, pixels: Floats, pitches: Sequence[float]) -> Iterator[tuple[Floats, Floats]]:
    """Yield the middles of tiles in which a wave stands out, and the wave, cycles per mm; the strongest first."""
    size = round(TILE * float(pixels.mean()))
    # what lies along an edge is seen whole in no tile, unless there are some beyond
    half = size // 2
    beyond = np.pad(small, half, mode="edge")
    high, wide = beyond.shape
    window = np.hanning(size)[:, None] * np.hanning(size)
    across, down = np.fft.rfftfreq(size)[None] * pixels[0], np.fft.fftfreq(size)[:, None] * pixels[1]
    cycles = np.hypot(across, down)
    about = np.any([np.abs(cycles * pitch - 1) < ABOUT for pitch in pitches], axis=0)
    round_about = (cycles > 0.7 / max(pitches)) & (cycles < 1.4 / min(pitches))
    lefts = np.arange(0, wide - size + 1, half)
    tiles = []
    for top in range(0, high - size + 1, half):
        row = beyond[top : top + size].astype(np.float32)
        cut = np.stack([row[:, left : left + size] for left in lefts])
        power = np.abs(np.fft.rfft2((cut - cut.mean(axis=(1, 2), keepdims=True)) * window)) ** 2
        level = np.median(power[:, round_about], axis=1) + 1.0
        best = np.argmax(np.where(about, power, 0).reshape(len(lefts), -1), axis=1)
        for one, above, left, index in zip(power, level, lefts, best, strict=True):
            y, x = np.unravel_index(index, one.shape)
            if one[y, x] > STANDS_OUT * above and one[y, x] > ALONE * _beside(one, int(y), int(x)):
                # the middle of the peak lies between its bins
                rows, columns = (y + np.arange(-1, 2)) % size, np.clip(x + np.arange(-1, 2), 0, one.shape[1] - 1)
                near = one[np.ix_(rows, columns)]
                wave = np.array([(near * across[:, columns]).sum(), (near * down[rows]).sum()]) / near.sum()
                tiles.append((float(one[y, x] / above), (np.array([left, top]) + (size - 1) / 2 - half) / pixels, wave))
    tiles.sort(key=lambda tile: -tile[0])
    for _, middle, wave in tiles[:MOST_TILES]:
        yield middle, wave


def _beside(power: Floats, y: int, x: int) -> float:
    """Return the greatest power of waves that run as one does and are shorter or longer by a quarter."""
    size = len(power)
    down = y if y <= size // 2 else y - size
    high = 0.0
    for share in (1 - APART, 1 + APART):
        rows, columns = round(down * share) + np.arange(-1, 2), round(x * share) + np.arange(-1, 2)
        # a real picture's spectrum is the same on its other half
        turned = columns < 0
        columns = np.minimum(np.abs(columns), power.shape[1] - 1)
        high = max(high, float(power[np.where(turned, -rows[:, None], rows[:, None]) % size, columns].max()))
    return high


def followed(small: Grey, pixels: Floats, middle: Floats, wave: Floats) -> Track | None:
    """Return the line along which the wave of a tile runs; None where it ends at once."""
    cycles = float(np.hypot(*wave))
    track: Track | None = Track(middle, wave / cycles, cycles, -TILE / 2, TILE / 2)
    for reach in REACHES:
        track = track and _better(small, pixels, track, reach, 0.0 if reach == REACHES[0] else BESIDE)
    return track


def sampled(grey: Grey, pixels: Floats, track: Track, us: Floats, vs: Floats) -> Floats:
    """Return the grey, NaN outside, so far along a line and to its right, a row for each of ``vs``."""
    right = np.array([-track.along[1], track.along[0]])
    x, y = (
        (track.at[axis] + us[None] * track.along[axis] + vs[:, None] * right[axis]) * pixels[axis] for axis in (0, 1)
    )
    high, wide = grey.shape
    outside = (x < 0) | (y < 0) | (x >= wide - 1) | (y >= high - 1)
    x, y = np.where(outside, 0, x), np.where(outside, 0, y)
    column, row = x.astype(np.int64), y.astype(np.int64)
    share, below = x - column, y - row
    above = grey[row, column] * (1 - share) + grey[row, column + 1] * share
    under = grey[row + 1, column] * (1 - share) + grey[row + 1, column + 1] * share
    return np.where(outside, np.nan, above * (1 - below) + under * below)


def _better(small: Grey, pixels: Floats, track: Track, reach: float, beside: float) -> Track | None:
    """Return the track as it is seen over so far to both sides, and ``beside`` it."""
    step = 1 / float(pixels.mean())
    us = np.arange(-reach, reach + step, step)
    vs = np.arange(track.low - beside, track.high + beside, step)
    waves, middles = _phasors(sampled(small, pixels, track, us, vs), us, track.cycles)
    width = max(1, round(0.5 / step))
    power = np.array([np.convolve(one, np.ones(width) / width, "same") for one in np.abs(waves) ** 2])
    near = np.abs(middles) < max(BLOCK, reach / 2)
    band = _band(power[near].sum(axis=0))
    if band is None or not SHORTEST < (band[1] - band[0]) * step < TALLEST:
        return None
    strength = power[:, slice(*band)].sum(axis=1)
    together = np.abs(waves[:, slice(*band)].sum(axis=1))
    alike = together > TOGETHER * np.abs(waves[:, slice(*band)]).sum(axis=1)
    kept = np.flatnonzero(alike & (strength > STRONG * np.quantile(strength[near], 0.7)))
    if len(kept) < (LEAST_BLOCKS if beside else 3):
        return None
    # where it runs: the middle of its power, block by block; longer strokes count no more than others
    grown = slice(max(0, band[0] - 3 * width), band[1] + 3 * width)
    even = np.minimum(power[:, grown], np.quantile(power[:, grown], 0.9, axis=1, keepdims=True))
    slope, level = _line(middles[kept], (even @ vs[grown] / np.maximum(even.sum(axis=1), 1e-9))[kept])
    phases = _unrolled(np.angle(waves[kept][:, slice(*band)].sum(axis=1)), int(np.argmin(np.abs(middles[kept]))))
    cycles = track.cycles + _line(middles[kept], phases)[0] / (2 * np.pi)
    longer = float(np.hypot(1, slope))
    right = np.array([-track.along[1], track.along[0]])
    low, high = float(vs[band[0]]) - level, float(vs[band[1] - 1]) - level
    return Track(track.at + level * right, (track.along + slope * right) / longer, cycles / longer, low, high)


def _phasors(strip: Floats, us: Floats, cycles: float) -> tuple[NDArray[np.complex128], Floats]:
    """Return the wave in each block and row of a strip as a complex number, and the middles of the blocks."""
    each = round(BLOCK / float(us[1] - us[0]))
    begins = np.linspace(0, len(us) - each, max(3, round(4 * us[-1] / BLOCK) - 1)).astype(int)
    window = np.hanning(each) / np.hanning(each).sum()
    turn = np.exp(-2j * np.pi * cycles * us)
    there = np.isfinite(strip)
    strip = np.where(there, strip, 0)
    waves = []
    for begin in begins.tolist():
        block = slice(begin, begin + each)
        mean = strip[:, block].sum(axis=1) / np.maximum(there[:, block].sum(axis=1), 1)
        even = np.where(there[:, block], strip[:, block] - mean[:, None], 0)
        waves.append((even * (window * turn[block])).sum(axis=1))
    return np.array(waves), us[begins] + float(us[1] - us[0]) * (each - 1) / 2


def _band(power: Floats) -> tuple[int, int] | None:
    """Return from where to where the power is high, round its greatest."""
    top = int(np.argmax(power))
    low = power < HIGHEST * power[top]
    before, behind = np.flatnonzero(low[:top]), np.flatnonzero(low[top:])
    begin = int(before[-1]) + 1 if len(before) else 0
    end = top + int(behind[0]) if len(behind) else len(power)
    return (begin, end) if end - begin >= 3 and power[top] > 0 else None


def _line(x: Floats, y: Floats) -> tuple[float, float]:
    """Return slope and height of a line by the median of all slopes (Theil and Sen, from memory), and of the rest."""
    one, other = np.triu_indices(len(x), 1)
    slope = float(np.median((y[other] - y[one]) / (x[other] - x[one])))
    return slope, float(np.median(y - slope * x))


def _unrolled(angles: Floats, start: int) -> Floats:
    """Return angles without the turns that they jump by, followed from one of them to both sides."""
    return np.concatenate([np.unwrap(angles[: start + 1][::-1])[::-1][:-1], np.unwrap(angles[start:])])
