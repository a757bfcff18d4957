"""What a test round shows, as JSON; shares as ratios of nominal, lengths in mm."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tiler.usecases.rounds.judging import TOLERANCE, Judged, Round, Spread, Summary
from tiler.usecases.rounds.table import Table


def to_json(file: Path, table: Table, result: Round) -> dict[str, Any]:
    """Return the whole result; shares as ratios of nominal, lengths in mm."""
    return {
        "file": str(file),
        "reading_error_mm": result.reading_error,
        "tolerance": TOLERANCE,
        "overall": _summary_json(result.overall),
        "testers": [_summary_json(one) for one in result.testers],
        "readings": [_reading_json(one) for one in result.overall.judged],
        "stands_out": [
            {
                "kind": one.kind,
                "name": one.name,
                "axis": one.axis,
                "lines": list(one.lines),
                "median": one.median,
                "others": one.others,
                "limit": one.limit,
                "same_readings_as": one.same_as or None,
            }
            for one in result.stands_out
        ],
        "sizes": [
            {"size": one.size or None, "remarks": [{"fit": words, "count": n} for words, n in one.remarks]}
            for one in result.sizes
        ],
        "skipped": [{"line": one.line, "tester": one.tester or None, "message": one.words} for one in table.bad],
        "notes": list(table.notes),
    }


def _summary_json(one: Summary) -> dict[str, Any]:
    def axis(of: Spread | None) -> dict[str, float] | None:
        if of is None:
            return None
        return {"median": of.median, "mad": of.mad, "least": of.least, "greatest": of.greatest}

    return {"name": one.name, "readings": len(one.judged), "across": axis(one.across), "down": axis(one.down)}


def _reading_json(one: Judged) -> dict[str, Any]:
    reading = one.reading
    return {
        "line": reading.line,
        "tester": reading.tester,
        "printer": reading.printer,
        "viewer": reading.viewer,
        "paper": reading.paper or None,
        "nominal_mm": reading.nominal,
        "across_mm": reading.across,
        "down_mm": reading.down,
        "size": reading.size or None,
        "fit": reading.fit or None,
        "across": reading.ratios[0],
        "down": reading.ratios[1],
        "reading_error": one.error,
        "shows": one.state,
        "reads_like": one.slip or None,
        "fit_to_page": [{"cause": cause.words, "factor": cause.factor} for cause in one.fit_to_page],
    }
