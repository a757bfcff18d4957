"""A report as a record of plain values, so that one process can hand it to another; nothing is rounded."""

from __future__ import annotations

from base64 import b64decode, b64encode
from dataclasses import asdict, dataclass
from typing import Any

from tiler.box import Box
from tiler.languages.handed import from_plain, to_plain
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report


@dataclass(frozen=True)
class Picture:
    """A picture (PNG) of the square that the row of that number in the table of sizes speaks of; pixels.

    Of a square that was not measured ``check`` is the number of what was found of it instead, and of a whole page, on
    which the squares are marked, ``page`` is its number.
    """

    row: int | None
    png: bytes
    width: int
    height: int
    check: int | None = None
    page: int | None = None

    def to_record(self) -> dict[str, Any]:
        """Return the picture as plain values."""
        return asdict(self) | {"png": b64encode(self.png).decode("ascii")}

    @classmethod
    def from_record(cls, record: dict[str, Any]) -> Picture:
        """Make the picture again."""
        return cls(**(record | {"png": b64decode(record["png"])}))


def to_record(report: Report) -> dict[str, Any]:
    """Return everything that a report holds as dictionaries, lists, texts and numbers."""
    record = asdict(report)
    for check in record["checks"]:
        check["label"] = to_plain(check["label"])
        check["numbers"] = {name: to_plain(number) for name, number in check["numbers"].items()}
    return record


def from_record(record: dict[str, Any]) -> Report:
    """Make the report again; raises ``TypeError``, ``KeyError`` and ``ValueError`` when the record is none."""
    checks = tuple(_check(check) for check in record["checks"])
    others = {name: _plain(value) for name, value in record.items() if name != "checks"}
    return Report(checks=checks, **others)


def _check(record: dict[str, Any]) -> Check:
    box = record["box"]
    kinds = {key: kind(record[key]) for key, kind in (("name", CheckName), ("status", Status), ("says", Says))}
    words = {
        "label": from_plain(record["label"]),
        "numbers": {name: from_plain(number) for name, number in record["numbers"].items()},
    }
    return Check(**(record | kinds | words | {"box": Box(**box) if box else None}))


def _plain(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
