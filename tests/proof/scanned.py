"""Scans and photos of drafted pages, made by PDFium: the page under any map, then what a scanner does to it."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass
from io import BytesIO
from math import cos, radians, sin
from typing import Protocol

import numpy as np
import pypdfium2 as pdfium
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter
from pypdfium2 import raw

from tiler.proof.scan.pixels.picture import Picture
from tiler.proof.scan.source import Source

INCH = 25.4

Map = tuple[float, float, float, float, float, float]
"""x' = a x + c y + e, y' = b x + d y + f, as PDF writes it."""


def laid(data: bytes, matrix: Map, size: tuple[int, int], page: int = 0) -> NDArray[np.uint8]:
    """Render a page in grey under a map from its points (y down, from its upper left corner) to pixels, on white."""
    with pdfium.PdfDocument(data) as pdf:
        one = pdf[page]
        bitmap = pdfium.PdfBitmap.new_native(*size, raw.FPDFBitmap_Gray)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, *size)
        clip = raw.FS_RECTF(0.0, 0.0, float(size[0]), float(size[1]))
        flags = raw.FPDF_GRAYSCALE | raw.FPDF_PRINTING
        raw.FPDF_RenderPageBitmapWithMatrix(
            bitmap, one, ctypes.byref(raw.FS_MATRIX(*matrix)), ctypes.byref(clip), flags
        )
        picture = np.array(bitmap.to_numpy()).reshape(size[1], size[0], -1)[:, :, 0]
        one.close()
    return picture


def page_points(data: bytes, page: int = 0) -> tuple[float, float]:
    """Return the size of a page in points."""
    with pdfium.PdfDocument(data) as pdf:
        width, height = pdf.get_page_size(page)
    return float(width), float(height)


class Lain(Protocol):
    """What lies on the glass."""

    def on(self, clean: NDArray[np.uint8], per_mm: tuple[float, float]) -> NDArray[np.uint8]:
        """Return a picture with it, of which so many pixels make 1 mm."""


@dataclass(frozen=True)
class Scanned:
    """How a page was printed and scanned: factors of the printer, resolution, turn in degrees, and what went wrong.

    ``card`` lies with its middle so far from the left and upper edge of the picture, mm, turned by degrees, in a shade.
    """

    across: float = 1.0
    down: float = 1.0
    dpi: float = 300.0
    turn: float = 0.0
    noise: float = 0.0
    blur: float = 0.0
    paper: float = 255.0
    ink: float = 0.0
    slope: float = 0.0
    shadow: float = 0.0
    dust: int = 0
    jpeg: int = 0
    part: tuple[float, float, float, float] = (0.0, 0.0, 1.0, 1.0)
    mirrored: bool = False
    scanner: tuple[float, float] = (1.0, 1.0)
    bare: tuple[float, float] = (0.0, 0.0)
    """So much of the glass is bare to the right of the page and below it, mm."""
    lain: tuple[Lain, ...] = ()
    card: tuple[float, float, float, int] | None = None
    seed: int = 1

    @property
    def truth(self) -> tuple[float, float]:
        """The factors that are to be measured."""
        return self.across, self.down


def scanned(data: bytes, how: Scanned, page: int = 0) -> NDArray[np.uint8]:
    """Return the scan of a page in grey."""
    chance = np.random.default_rng(how.seed)
    width, height = page_points(data, page)
    dots = how.dpi / 72
    size = (round(width * dots), round(height * dots))
    angle = radians(how.turn)
    flip = -1.0 if how.mirrored else 1.0
    a, c, b, d = cos(angle) * flip, -sin(angle), sin(angle) * flip, cos(angle)
    a, b, c, d = (dots * one for one in (a * how.across, b * how.across, c * how.down, d * how.down))
    shift = chance.uniform(0, 1, 2) if how.seed else np.zeros(2)
    x0, y0 = (size[index] * how.part[index] + part for index, part in enumerate(-shift))
    wide, high = (round(size[index] * (how.part[index + 2] - how.part[index])) for index in (0, 1))
    quarter = round(how.turn / 90) % 2
    middle = (size[1] / 2, size[0] / 2) if quarter else (size[0] / 2, size[1] / 2)
    if quarter:
        wide, high = high, wide
    e = middle[0] - a * width / 2 - c * height / 2 - x0
    f = middle[1] - b * width / 2 - d * height / 2 - y0
    sx, sy = how.scanner
    clean = laid(data, (a * sx, b * sy, c * sx, d * sy, e * sx, f * sy), (wide, high), page)
    right, below = (round(mm * how.dpi / INCH) for mm in how.bare)
    clean = np.pad(clean, ((0, below), (0, right)), constant_values=255)
    for one in how.lain:
        clean = one.on(clean, (how.dpi * sx / INCH, how.dpi * sy / INCH))
    if how.card:
        clean = with_card(clean, how.card, (how.dpi * sx / INCH, how.dpi * sy / INCH))
    return worn(clean, how, chance)


def with_card(
    clean: NDArray[np.uint8],
    card: tuple[float, float, float, int],
    per_mm: tuple[float, float],
    shade: tuple[float, float, float] = (0.35, 0.5, 0.4),
) -> NDArray[np.uint8]:
    """Lay a card of ISO/IEC 7810 ID-1 on a picture: 85.60 × 53.98 mm, its corners round with 3.18 mm, with a print.

    Its shadow is so dark, as a share, and so soft and so far aside, mm.
    """
    x, y = np.meshgrid(*((np.arange(n) + 0.5) / one for n, one in zip(clean.shape[::-1], per_mm, strict=True)))
    angle = radians(card[2])
    x, y = x - card[0], y - card[1]
    u, v = x * cos(angle) + y * sin(angle), y * cos(angle) - x * sin(angle)

    def outside(across: NDArray[np.float64], down: NDArray[np.float64]) -> NDArray[np.float64]:
        qx, qy = np.abs(across) - 42.80 + 3.18, np.abs(down) - 26.99 + 3.18
        return np.hypot(np.maximum(qx, 0), np.maximum(qy, 0)) + np.minimum(np.maximum(qx, qy), 0) - 3.18

    dark, soft, aside = shade
    shadow = dark * np.exp(-((np.maximum(outside(u - aside, v - aside), 0) / soft) ** 2))
    face = card[3] + 25 * np.sin(u / 3) + 60 * (np.abs(v + 8) < 5)
    cover = np.clip(0.5 - outside(u, v) * per_mm[0], 0, 1)
    return np.clip((1 - cover) * clean * (1 - shadow) + cover * face, 0, 255).astype(np.uint8)


def worn(clean: NDArray[np.uint8], how: Scanned, chance: np.random.Generator) -> NDArray[np.uint8]:
    """Return what paper, lamp, lens, dirt and compression leave of a picture."""
    high, wide = clean.shape
    grey = Image.fromarray(clean)
    if how.dust:
        draw = ImageDraw.Draw(grey)
        for _ in range(how.dust):
            x, y = chance.uniform(0, wide), chance.uniform(0, high)
            r = chance.uniform(0.05, 0.35) * how.dpi / INCH
            shade = int(chance.choice([0, 60, 120, 255]))
            if chance.random() < 0.2:
                draw.line([x, y, *(chance.uniform(-15, 15, 2) * r + (x, y))], shade, max(1, int(how.dpi / 250)))
            else:
                draw.ellipse([x - r, y - r, x + r, y + r], fill=shade)
    if how.blur:
        grey = grey.filter(ImageFilter.GaussianBlur(how.blur))
    values = how.ink + np.asarray(grey, dtype=np.float32) * ((how.paper - how.ink) / 255)
    if how.slope:
        values *= (1 - how.slope * np.linspace(0, 1, wide, dtype=np.float32))[None, :]
    if how.shadow:
        edge = np.clip((np.arange(high, dtype=np.float32) - 0.27 * high) / (0.01 * high), 0, 1)
        values *= (1 - how.shadow * edge)[:, None]
    if how.noise:
        values += chance.normal(0, how.noise, values.shape).astype(np.float32)
    picture = np.clip(np.rint(values), 0, 255).astype(np.uint8)
    if how.jpeg:
        out = BytesIO()
        Image.fromarray(picture).save(out, "JPEG", quality=how.jpeg)
        picture = np.asarray(Image.open(out))
    return picture


@dataclass(frozen=True)
class Photo:
    """How a print was photographed: from how high, mm, how far tilted and from where, degrees, with what barrel."""

    across: float = 1.0
    down: float = 1.0
    tilt: float = 0.0
    towards: float = 0.0
    spin: float = 0.0
    above: float = 420.0
    barrel: float = 0.0
    size: tuple[int, int] = (2250, 3000)
    card: tuple[float, float, float, int] | None = (110.0, 215.0, 1.0, 60)
    noise: float = 4.0
    blur: float = 0.7
    jpeg: int = 85
    slope: float = 0.15
    seed: int = 1

    @property
    def truth(self) -> tuple[float, float]:
        """The factors that are to be measured."""
        return self.across, self.down


CARD_THICK = 0.76
"""ISO/IEC 7810, mm."""


def photographed(data: bytes, how: Photo, page: int = 0, dots: float = 250.0) -> NDArray[np.uint8]:
    """Return a photo: rays through a pinhole and a lens onto the paper, and onto a card of its thickness on it."""
    width, height = page_points(data, page)
    scale = dots / 72
    size = (round(width * scale), round(height * scale))
    paper = laid(data, (scale * how.across, 0, 0, scale * how.down, 0, 0), size, page).astype(np.float32)
    wide, high = how.size
    focal = 0.72 * max(how.size)
    tilt, towards, spin = map(radians, (how.tilt, how.towards, how.spin))
    axis = np.array([cos(towards), sin(towards), 0.0])
    look = _turn(axis, tilt) @ _turn(np.array([0.0, 0.0, 1.0]), spin)
    aim = np.array([size[0] / 2, size[1] / 2, 0.0]) / dots * INCH
    eye = aim + look @ np.array([0.0, 0.0, how.above])
    picture = np.full((high, wide), 110.0, np.float32)
    radius = np.hypot(wide, high) / 2
    columns = (np.arange(wide) - (wide - 1) / 2) / radius
    for begin in range(0, high, 250):
        rows = (np.arange(begin, min(begin + 250, high)) - (high - 1) / 2) / radius
        x, y = (one.ravel() for one in np.meshgrid(columns, rows))
        # a barrel draws what is seen in: r' = r (1 - k r²)
        u, v = x, y
        for _ in range(4):
            bend = 1 - how.barrel * (u * u + v * v)
            u, v = x / bend, y / bend
        rays = look @ np.stack([u * radius / focal, v * radius / focal, -np.ones_like(u)])

        def hit(level: float, rays: NDArray[np.float64] = rays) -> NDArray[np.float64]:
            return eye[:2, None] + rays[:2] * ((level - eye[2]) / rays[2])

        at = hit(0.0) * dots / INCH - 0.5
        shown = _between(paper, at[0], at[1], 110.0)
        if how.card:
            shown = _covered(shown, hit(CARD_THICK), how.card, how.above / focal)
        picture[begin : begin + 250] = shown.reshape(-1, wide)
    chance = np.random.default_rng(how.seed)
    as_scan = Scanned(noise=how.noise, blur=how.blur, jpeg=how.jpeg, slope=how.slope, paper=235, ink=25)
    return worn(np.clip(picture, 0, 255).astype(np.uint8), as_scan, chance)


def _turn(axis: NDArray[np.float64], angle: float) -> NDArray[np.float64]:
    """Return the rotation about an axis (Rodrigues)."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + sin(angle) * cross + (1 - cos(angle)) * cross @ cross)


def _between(
    values: NDArray[np.float32], x: NDArray[np.float64], y: NDArray[np.float64], beyond: float
) -> NDArray[np.float32]:
    high, wide = values.shape
    inside = (x >= 0) & (y >= 0) & (x < wide - 1) & (y < high - 1)
    x, y = np.where(inside, x, 0), np.where(inside, y, 0)
    column, row = x.astype(int), y.astype(int)
    right, below = x - column, y - row
    above = values[row, column] * (1 - right) + values[row, column + 1] * right
    under = values[row + 1, column] * (1 - right) + values[row + 1, column + 1] * right
    return np.where(inside, above * (1 - below) + under * below, beyond).astype(np.float32)


def _covered(
    shown: NDArray[np.float32], at: NDArray[np.float64], card: tuple[float, float, float, int], per_pixel: float
) -> NDArray[np.float32]:
    angle = radians(card[2])
    x, y = at[0] - card[0], at[1] - card[1]
    u, v = x * cos(angle) + y * sin(angle), y * cos(angle) - x * sin(angle)
    qx, qy = np.abs(u) - 42.80 + 3.18, np.abs(v) - 26.99 + 3.18
    outside = np.hypot(np.maximum(qx, 0), np.maximum(qy, 0)) + np.minimum(np.maximum(qx, qy), 0) - 3.18
    cover = np.clip(0.5 - outside / per_pixel, 0, 1)
    return (shown * (1 - cover) + cover * (card[3] + 20 * np.sin(u / 3))).astype(np.float32)


def as_source(grey: NDArray[np.uint8], dpi: float) -> Source:
    """Return a picture as the proof reads it."""
    return Source(Picture(grey, (dpi, dpi)))
