"""Combs of equal strokes in a picture, measured stroke by stroke: their pitch, and how long each stroke is.

The middle of a stroke is the centre of its darkness, or lightness, along the comb; the pitch is the slope of the line
of least squares through all middles, weighted anew by Tukey's biweight (as in ``lines``).

Places and pitches are mm as the picture states them, x to the right and y down; so many ``pixels`` make 1 mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tiler.proof.scan.pixels.biweight import line_through
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.waves import BLOCK, REACHES, TILE, Track, followed, sampled, waves_in

COARSE = 5.9
"""So many pixels make a millimetre of the copy on which combs are sought at least: 150 to the inch."""

MOST_TRACKS = 16
"""Where more waves than this run on the paper is ruled or hatched, and the strongest must do."""

LEAST_SPAN = 50.0
"""A shorter comb tells no pitch, mm."""

LEAST_STROKES = 12

LEAST_CONTRAST = 5.0
"""Strokes that differ by less from what they stand on are none, grey values of 255."""

PALE = 0.4
"""Nor are those that differ by less than this share of the others."""

OFF_PLACE = 0.1
"""A stroke further from its place is none, as a share of the pitch."""

LEAST_SEEN = 0.6
"""Of all strokes from the first to the last so many must be seen."""

INSIDE = 0.5
"""Where less of a comb's breadth lies in the picture its strokes are not measured, as a share."""

LONGEST = 12.0
"""No stroke is longer, mm."""


@dataclass(frozen=True)
class Comb:
    """Strokes of one pitch along a line: where each stands from its point, by ``numbers`` of which some may lack.

    ``dark`` ones stand on a lighter ground. ``error`` is the standard error of the pitch.
    """

    track: Track
    pitch: float
    error: float
    numbers: Floats
    places: Floats
    dark: bool

    @property
    def span(self) -> float:
        """How far it is from the first stroke to the last."""
        return float(np.ptp(self.places))

    @property
    def middle(self) -> Floats:
        """The point half way from the first to the last."""
        return np.asarray(self.track.at + self.track.along * float(self.places[[0, -1]].mean()))

    def beside(self, point: Floats) -> bool:
        """Tell whether a point lies on the comb or next to it."""
        off = point - self.track.at
        along, right = off @ self.track.along, self.track.along[0] * off[1] - self.track.along[1] * off[0]
        near = self.track.low - TILE / 3 < right < self.track.high + TILE / 3
        return bool(near and self.places[0] - TILE < along < self.places[-1] + TILE)


def combs_in(grey: Grey, pixels: Floats, pitches: Sequence[float]) -> Iterator[Comb]:
    """Yield the combs of about the given pitches in a picture, each once."""
    factor = max(1, int(float(pixels.min()) / COARSE))
    small = np.asarray(Image.fromarray(grey).reduce(factor)) if factor > 1 else grey
    # the middle of the first pixel of the copy is not that of the first of the picture
    shift = (factor - 1) / 2 / pixels
    found: list[Comb] = []
    tracks = 0
    for middle, wave in waves_in(small, pixels / factor, pitches):
        if any(comb.beside(middle + shift) for comb in found):
            continue
        track = followed(small, pixels / factor, middle, wave)
        tracks += track is not None
        if tracks > MOST_TRACKS:
            return
        comb = track and _comb(grey, pixels, replace(track, at=track.at + shift))
        if comb and not any(one.beside(comb.middle) for one in found):
            found.append(comb)
            yield comb


def stroke_ends(grey: Grey, pixels: Floats, comb: Comb) -> tuple[Floats, Floats]:
    """Return how far each stroke of a comb reaches to its left and to its right, mm; NaN beyond the picture."""
    step = 1 / float(pixels.mean())
    vs = np.arange(comb.track.low - LONGEST, comb.track.high + LONGEST, step)
    on, beside = (
        np.mean([sampled(grey, pixels, comb.track, comb.places + off, vs) for off in offs], axis=0)
        for offs in ((-0.05, 0.05), (-0.35 * comb.pitch, -0.25 * comb.pitch, 0.25 * comb.pitch, 0.35 * comb.pitch))
    )
    known = np.isfinite(beside - on).T
    contrast = np.nan_to_num(beside - on if comb.dark else on - beside)
    width = max(1, round(0.3 / step))
    contrast = np.array([np.convolve(one, np.ones(width) / width, "same") for one in contrast.T])
    middle = int(np.argmin(np.abs(vs - (comb.track.low + comb.track.high) / 2)))
    inside = (vs > comb.track.low) & (vs < comb.track.high)
    there = contrast > np.median(contrast[:, inside], axis=1, keepdims=True) / 2
    return (
        _reach(there[:, middle::-1], known[:, middle::-1], step),
        _reach(there[:, middle:], known[:, middle:], step),
    )


def _reach(there: NDArray[np.bool_], known: NDArray[np.bool_], step: float) -> Floats:
    """Return where each stroke is no longer seen, mm from its middle."""
    end = np.argmin(np.column_stack([there, np.zeros(len(there), bool)]), axis=1)
    told = np.take_along_axis(known, np.minimum(end, known.shape[1] - 1)[:, None], axis=1)[:, 0]
    return np.where(told, end * step, np.nan)


def _comb(grey: Grey, pixels: Floats, track: Track) -> Comb | None:
    """Measure each stroke of a track in the picture itself; None where too few are seen."""
    step = 1 / float(pixels.mean())
    inner = 0.15 * (track.high - track.low)
    vs = np.arange(track.low + inner, track.high - inner, step)
    us = np.arange(-REACHES[-1], REACHES[-1], step)
    strip = sampled(grey, pixels, track, us, vs)
    here = np.isfinite(strip).mean(axis=0) > INSIDE
    if here.sum() * step < LEAST_SPAN:
        return None
    us, profile = us[here], np.nanmean(strip[:, here], axis=0)
    # a ruler may lie askew along the edge of the picture, and its strokes are counted from the middle of what is seen
    middle = float(np.median(us))
    us, track = us - middle, replace(track, at=track.at + middle * track.along)
    near = np.abs(us) < 2 * BLOCK
    wave = np.exp(-2j * np.pi * track.cycles * us[near]) * (profile[near] - profile[near].mean())
    # the wave is greatest where the ground is light: half a pitch off dark strokes
    light = -float(np.angle(wave.sum())) / (2 * np.pi * track.cycles)
    found = [
        _fitted(us, -profile if dark else profile, light + (0.5 / track.cycles if dark else 0), track, dark)
        for dark in (True, False)
    ]
    return max((one for one in found if one), key=lambda one: one[0], default=(0.0, None))[1]


def _fitted(us: Floats, light: Floats, first: float, track: Track, dark: bool) -> tuple[float, Comb] | None:
    """Return the comb of light strokes of which the ``first`` one stands about there, and their contrast."""
    pitch = 1 / track.cycles
    numbers = places = np.empty(0)
    sure, typical = np.empty(0, bool), 0.0
    for reach in (REACHES[1], REACHES[3], REACHES[-1]):
        begin, end = (max(us[0], -reach) - first) / pitch, (min(us[-1], reach) - first) / pitch
        numbers = np.arange(np.ceil(begin + 0.6), end - 0.6)
        if len(numbers) < LEAST_STROKES:
            return None
        places, contrast = _strokes(us, light, first + numbers * pitch, pitch)
        typical = float(np.quantile(contrast, 0.75))
        seen = contrast > max(PALE * typical, LEAST_CONTRAST)
        sure = seen
        for _ in range(10):
            if sure.sum() < LEAST_STROKES:
                return None
            pitch, first = (float(one) for one in np.polyfit(numbers[sure], places[sure], 1))
            sure = seen & (np.abs(places - first - pitch * numbers) < OFF_PLACE * pitch)
    start, stop = _densest(sure)
    inside = np.flatnonzero(sure[start : stop + 1]) + start
    if len(inside) < LEAST_SEEN * (stop + 1 - start) or (stop - start) * pitch < LEAST_SPAN:
        return None
    measured, error = _pitch(numbers[inside], places[inside])
    return typical, Comb(track, measured, error, numbers[inside], places[inside], dark)


def _pitch(numbers: Floats, places: Floats) -> tuple[float, float]:
    """Return the pitch of strokes, and its standard error."""
    line, off, weight = line_through(numbers, places, 10, 0.005)
    kept = weight > 0
    lever = float(np.sqrt(((numbers[kept] - numbers[kept].mean()) ** 2).sum()))
    return float(line[1]), max(float(off[kept].std()), 0.01) / lever


def _strokes(us: Floats, light: Floats, wanted: Floats, pitch: float) -> tuple[Floats, Floats]:
    """Return where light strokes stand that are about at wanted places, and their contrast with what is beside."""
    shares = np.arange(-0.5, 0.5, float(us[1] - us[0]) / pitch / 2)
    at = wanted[:, None] + shares * pitch
    values = np.interp(at, us, light)
    outer = np.abs(shares) > 0.32
    left, right = (np.median(values[:, outer & side], axis=1)[:, None] for side in (shares < 0, shares > 0))
    height = values - left * (0.5 - shares) - right * (0.5 + shares)
    contrast = height[:, ~outer].max(axis=1)
    weight = np.where(np.abs(shares) < 0.4, np.maximum(height - 0.2 * contrast[:, None], 0), 0)
    total = weight.sum(axis=1)
    return np.where(total > 0, (weight * at).sum(axis=1) / np.maximum(total, 1e-9), wanted), contrast


def _densest(sure: NDArray[np.bool_]) -> tuple[int, int]:
    """Return between which strokes most are seen that are not outweighed by others that are not."""
    best, ends, total, begin = 0, (0, 0), 0, 0
    for index, one in enumerate(sure.tolist()):
        if total <= 0:
            total, begin = 0, index
        total += 1 if one else -1
        if total > best:
            best, ends = total, (begin, index)
    return ends
