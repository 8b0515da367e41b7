"""Commands that try many masts: the best one, materials side by side, one thing varied, and how sure it all is."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from .common import (
    FAILED,
    INTERRUPTED,
    NO_SIZE,
    PASSED,
    bad,
    cannot_plot,
    folder_of,
    read,
    read_text,
    same_file,
    tell,
)

if TYPE_CHECKING:
    from ..reports.figures import Drawn
    from ..rig import Rig


def size(options: argparse.Namespace) -> int:
    """Find the best mast of a material."""
    from ..design.sizing import NoSize, Watch, size_all
    from ..reports.size import size_json, size_screen
    from ..rigfile import rig_text

    if options.output is not None and (trouble := _cannot_write(options.file, options.output)):
        return bad(trouble)
    rig = _asked(read(options.file), minimise=options.minimise)
    names = options.material or [rig.mast.material]
    if options.json and len(names) > 1:
        return bad("--json is of one --material; `rigcalc compare` sets several side by side")
    if options.output is not None and len(names) > 1:
        return bad("-o is for the mast of one --material")
    found = size_all(rig, names, folder=folder_of(options.file), watch=Watch(tell))
    for one in found:
        sys.stdout.write(size_json(one) if options.json else size_screen(one, shown_in=options.units))
    sized = [one for one in found if not isinstance(one, NoSize)]
    if options.output is not None and sized:
        heading = [
            f"Sized by rigcalc: {sized[0].material}. Check it, and have it reviewed, before you order."
        ]
        try:
            Path(options.output).write_text(rig_text(sized[0].rig, heading=heading), encoding="utf-8")
        except OSError as error:
            return bad(f"{options.output}: {error.strerror or error}")
        print(f"Wrote {options.output}; run: rigcalc check {options.output}", file=sys.stderr)
    if not all(one.finished for one in found):
        return INTERRUPTED
    return PASSED if len(sized) == len(found) else NO_SIZE


def compare(options: argparse.Namespace) -> int:
    """Size a mast of each of several materials, side by side."""
    from ..design.compare import compare
    from ..design.sizing import Watch
    from ..reports.compare import compare_csv, compare_figure, compare_json, compare_screen

    if options.vary:
        return _trade(options)
    if options.plot is not None and (trouble := cannot_plot(options.file, options.plot)):
        return bad(trouble)
    found = compare(
        read(options.file),
        materials=options.material or (),
        folder=folder_of(options.file),
        watch=Watch(tell),
    )
    if options.json:
        sys.stdout.write(compare_json(found))
    elif options.csv:
        sys.stdout.write(compare_csv(found))
    else:
        sys.stdout.write(compare_screen(found, shown_in=options.units))
    if options.plot is not None and (
        trouble := _plotted(compare_figure(found, us=options.units == "us"), options.plot)
    ):
        return bad(trouble)
    if not found.finished:
        return INTERRUPTED
    return NO_SIZE if found.none else PASSED


def _trade(options: argparse.Namespace) -> int:
    """Size masts of several materials at every point of what is varied."""
    from ..design.compare import trade
    from ..design.sizing import Watch
    from ..reports.compare import trade_csv, trade_figure, trade_json, trade_screen

    if options.plot is not None and (trouble := cannot_plot(options.file, options.plot)):
        return bad(trouble)
    found = trade(
        read_text(options.file),
        options.vary,
        materials=options.material or (),
        folder=folder_of(options.file),
        watch=Watch(tell),
    )
    if options.json:
        sys.stdout.write(trade_json(found))
    elif options.csv:
        sys.stdout.write(trade_csv(found))
    else:
        sys.stdout.write(trade_screen(found, shown_in=options.units))
    if options.plot is not None and (
        trouble := _plotted(trade_figure(found, us=options.units == "us"), options.plot)
    ):
        return bad(trouble)
    if not found.finished:
        return INTERRUPTED
    return PASSED if any(mast is not None for point in found.points for mast in point.masts) else NO_SIZE


def doubt(options: argparse.Namespace) -> int:
    """Tell how sure the verdict is."""
    from ..design.doubt import doubt
    from ..reports.doubt import doubt_figure, doubt_json, doubt_screen

    if options.plot is not None and (trouble := cannot_plot(options.file, options.plot)):
        return bad(trouble)
    if options.samples is not None and not 100 <= options.samples <= 200_000:
        return bad("--samples must be from 100 to 200000")
    found = doubt(read(options.file), samples=options.samples)
    sys.stdout.write(doubt_json(found) if options.json else doubt_screen(found))
    if options.plot is not None and (trouble := _plotted(doubt_figure(found), options.plot)):
        return bad(trouble)
    return PASSED if found.verdict == "pass" else FAILED


def _plotted(drawn: Drawn, out: str) -> str:
    """Draw a figure into a file; return what went wrong."""
    from ..reports.figures import save

    try:
        save(drawn, out)
    except OSError as error:
        return f"--plot {out}: {error.strerror or error}"
    print(f"Wrote {out}.", file=sys.stderr)
    return ""


def _asked(rig: Rig, *, minimise: str | None) -> Rig:
    """Return the rig with what the command line asks in place of its [size]."""
    from dataclasses import replace

    from ..rig import Sizing

    if minimise is None:
        return rig
    return replace(rig, sizing=replace(rig.sizing or Sizing(), minimise=minimise))


def _cannot_write(file: str, out: str) -> str:
    if file != "-" and same_file(file, out):
        return f"-o {out} is the rig file itself; choose another name"
    return ""
