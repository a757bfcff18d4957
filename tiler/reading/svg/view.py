"""What an SVG file's numbers mean: lengths, transforms, and how a view box fills its viewport.

Rules are those of SVG 2 (W3C): units 8.9, transform 8.5, viewBox 8.6,
preserveAspectRatio 8.7; absolute units are those of CSS Values 3, section 6.2:
1 in = 25.4 mm = 96 px = 72 pt = 6 pc, 1 Q = 1/4 mm.  A user unit without a view box
is one px.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import isfinite, radians

from fontTools.misc.transform import Identity, Offset, Transform

from tiler.errors import UnreadableError

MM_PER_PX = 25.4 / 96

PX_PER_UNIT = {
    "px": 1.0,
    "in": 96.0,
    "cm": 96 / 2.54,
    "mm": 96 / 25.4,
    "q": 96 / 101.6,
    "pt": 96 / 72,
    "pc": 16.0,
}

_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z]*|%)\s*")
_TRANSFORM = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)")


@dataclass(frozen=True)
class View:
    """The map from user units to mm, y up, with the size of the viewport in user units.

    ``in_px`` says that the size was stated in px, which not all programs hold to be 1/96 in.
    """

    to_mm: Transform
    width: float
    height: float
    in_px: bool


def numbers(text: str, what: str) -> list[float]:
    """Read numbers between spaces or commas; raises :class:`UnreadableError` for anything else."""
    parts = re.findall(rf"{_NUMBER}|[^\s,]", text)
    if not all(re.fullmatch(_NUMBER, part) and isfinite(float(part)) for part in parts):
        raise UnreadableError(f"{what} '{_short(text)}' is not made of numbers; export the file again")
    return [float(part) for part in parts]


def user_length(text: str | None, whole: float, what: str) -> float | None:
    """Read a length in user units; a percentage is of ``whole``.  None where there is none or it is ``auto``."""
    if text is None or text.strip() == "auto":
        return None
    match = _LENGTH.fullmatch(text)
    factor = {"": 1.0, "%": whole / 100, **PX_PER_UNIT}.get(match[2].lower()) if match else None
    if not match or factor is None or not isfinite(float(match[1])):
        raise UnreadableError(f"{what} '{_short(text)}' is not a length that can be read; write it in mm")
    return float(match[1]) * factor


def transform(text: str) -> Transform:
    """Read a ``transform`` attribute."""
    whole, place = Identity, 0
    for match in _TRANSFORM.finditer(text):
        if match.start() != place:
            break
        whole = whole.transform(_one_transform(match[1], numbers(match[2], "the transform")))
        place = match.end()
    if text[place:].strip(" ,\t\r\n") not in ("", "none"):
        raise UnreadableError(f"the transform '{_short(text)}' cannot be read; export the file again")
    return whole


def _one_transform(name: str, n: list[float]) -> Transform:
    match name, n:
        case "matrix", [_, _, _, _, _, _]:
            return Transform(*n)
        case "translate", [_] | [_, _]:
            return Offset(*n)
        case "scale", [_] | [_, _]:
            return Identity.scale(*n)
        case "rotate", [angle, *centre] if len(centre) in (0, 2):
            x, y = centre or (0.0, 0.0)
            return Offset(x, y).rotate(radians(angle)).translate(-x, -y)
        case "skewX", [angle]:
            return Identity.skew(radians(angle), 0.0)
        case "skewY", [angle]:
            return Identity.skew(0.0, radians(angle))
    raise UnreadableError(f"the transform '{name}' with {len(n)} numbers is not known; export the file again")


def view_box(text: str | None) -> tuple[float, float, float, float] | None:
    """Read a ``viewBox``; None where there is none."""
    if text is None:
        return None
    box = numbers(text, "the viewBox")
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        raise UnreadableError(f"the viewBox '{_short(text)}' has no size; export the file again")
    return (box[0], box[1], box[2], box[3])


def fitted(box: tuple[float, float, float, float], width: float, height: float, ratio: str) -> Transform:
    """Return the map that puts a view box into a viewport, by ``preserveAspectRatio``."""
    x, y, wide, high = box
    across, down = width / wide, height / high
    words = [word for word in ratio.split() if word != "defer"] or ["xMidYMid"]
    align = words[0]
    if align != "none":
        across = down = max(across, down) if "slice" in words else min(across, down)
    shares = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    left = (width - wide * across) * shares.get(align[1:4], 0.5)
    top = (height - high * down) * shares.get(align[5:8], 0.5)
    if align == "none":
        left = top = 0.0
    return Transform(across, 0.0, 0.0, down, left - x * across, top - y * down)


def outer_view(attributes: dict[str, str], name: str) -> View:
    """Return the view of the outermost element; raises :class:`UnreadableError` where its real size is not stated."""
    box = view_box(attributes.get("viewBox"))
    sizes = [_physical(attributes.get(key), key, name) for key in ("width", "height")]
    known = [size for size in sizes if size]
    if not known:
        raise UnreadableError(
            f"{name} does not say how large it really is; "
            'give its <svg> a width and a height in mm, cm or in, such as width="210mm"'
        )
    in_px = any(unit == "px" for _, unit in known)
    width, height = (size[0] if size else None for size in sizes)
    if box:
        width = width or (height or 0.0) * box[2] / box[3]
        height = height or width * box[3] / box[2]
        inner = fitted(box, width, height, attributes.get("preserveAspectRatio", ""))
        wide, high = box[2], box[3]
    else:
        inner = Identity
        wide, high = width or 0.0, height or 0.0
    up = Transform(MM_PER_PX, 0.0, 0.0, -MM_PER_PX, 0.0, (height or 0.0) * MM_PER_PX)
    return View(up.transform(inner), wide, high, in_px)


def _physical(text: str | None, key: str, name: str) -> tuple[float, str] | None:
    """Return a stated size in px with its unit; None where it is left to the viewer."""
    if text is None or text.strip() in ("", "auto") or text.strip().endswith("%"):
        return None
    match = _LENGTH.fullmatch(text)
    unit = match[2].lower() if match else ""
    if not match or unit not in PX_PER_UNIT or not 0 < float(match[1]) < 1e7:
        raise UnreadableError(
            f"{name} does not say how large it really is: its {key} is '{_short(text)}'; "
            f"write it with its unit, in mm, cm or in"
        )
    return float(match[1]) * PX_PER_UNIT[unit], unit


def _short(text: str) -> str:
    plain = "".join(sign if sign.isprintable() else " " for sign in text)
    return plain if len(plain) <= 40 else plain[:37] + "..."
