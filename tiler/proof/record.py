"""A report as a record of plain values, so that one process can hand it to another; nothing is rounded."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from tiler.declaration import Box
from tiler.proof.report import Check, Report


def to_record(report: Report) -> dict[str, Any]:
    """Give everything that a report holds as dictionaries, lists, texts and numbers."""
    return asdict(report)


def from_record(record: dict[str, Any]) -> Report:
    """Make the report again; raises ``TypeError`` and ``KeyError`` when the record is none."""
    checks = tuple(_check(check) for check in record["checks"])
    others = {name: _plain(value) for name, value in record.items() if name != "checks"}
    return Report(checks=checks, **others)


def _check(record: dict[str, Any]) -> Check:
    box = record["box"]
    return Check(**{**record, "box": Box(**box) if box else None})


def _plain(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
