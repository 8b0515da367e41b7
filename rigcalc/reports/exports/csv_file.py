"""The stations as comma-separated values, for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from .table import AXES, Table


def table_csv(table: Table) -> str:
    """Return the stations as comma-separated values below lines that begin with ``#``.

    Numbers have all their digits. A utilisation without an answer is ``inf``.
    """
    columns = [*table.mast.items()]
    for case, own in zip(table.result.cases, table.cases, strict=True):
        columns += [(f"{case.name}: {name}", column) for name, column in own.items()]
    out = io.StringIO()
    for line in _comments(table):
        out.write(f"# {line}\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([name for name, _ in columns])
    # nothing has no minus before it
    writer.writerows(zip(*((column + 0.0).tolist() for _, column in columns), strict=True))
    return out.getvalue()


def _comments(table: Table) -> Iterator[str]:
    result = table.result
    yield f"rigcalc {result.rigcalc_version}, stations of the mast, schema version {result.schema_version}"
    yield f"title: {result.title}"
    failed = sum(not check.passed for check in result.checks)
    yield f"verdict: {result.verdict}, {failed} of {len(result.checks)} checks fail"
    yield from (f"caution: {text}" for text in result.cautions)
    yield from (f"warning: {text}" for text in result.warnings)
    yield from AXES
