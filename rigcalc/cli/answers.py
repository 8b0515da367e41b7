"""Commands that answer on the screen."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from .common import FAILED, PASSED, bad, cannot_plot, read, read_text, takes_colour


def check(options: argparse.Namespace) -> int:
    """Check a rig in all its cases, or at every point where something of it is varied."""
    if options.vary:
        return _vary(options)
    if options.plot is not None or options.csv:
        return bad(f"{'--csv' if options.csv else '--plot'} goes with --vary")
    from ..reports import as_json, limits_screen, screen
    from ..verdict import NoSuchCaseError, check

    if options.stations and not options.json:
        return bad("--stations goes with --json")
    if options.limits and options.json:
        return bad("--limits is of the text answer; --json has every check in full")
    try:
        result = check(read(options.file), case=options.case)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.json:
        sys.stdout.write(as_json(result, stations=options.stations))
    elif options.limits:
        sys.stdout.write(limits_screen(result, shown_in=options.units))
    else:
        sys.stdout.write(screen(result, shown_in=options.units, colour=takes_colour(sys.stdout)))
    return PASSED if result.passed else FAILED


def _vary(options: argparse.Namespace) -> int:
    """Check a rig at every point of what is varied."""
    from ..design.sizing import Watch
    from ..design.vary import vary
    from ..reports.vary import vary_csv, vary_figures, vary_json, vary_screen
    from ..verdict import NoSuchCaseError

    if options.stations or options.limits:
        return bad(f"{'--stations' if options.stations else '--limits'} is of one rig, not of --vary")
    if options.json and options.csv:
        return bad("--json and --csv do not go together")
    if options.plot is not None and (trouble := cannot_plot(options.file, options.plot)):
        return bad(trouble)
    watch = Watch(lambda text: print(f"rigcalc: {text}", file=sys.stderr))
    try:
        found = vary(read_text(options.file), options.vary, case=options.case, watch=watch)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.json:
        sys.stdout.write(vary_json(found))
    elif options.csv:
        sys.stdout.write(vary_csv(found))
    else:
        sys.stdout.write(vary_screen(found, shown_in=options.units))
    if options.plot is not None:
        from ..reports.figures import save, save_pages

        figures = vary_figures(found, shown_in=options.units)
        try:
            if options.plot.lower().endswith(".pdf"):
                save_pages(figures, options.plot)
            else:
                save(figures[0], options.plot)
        except OSError as error:
            return bad(f"--plot {options.plot}: {error.strerror or error}")
        print(f"Wrote {options.plot}.", file=sys.stderr)
    return PASSED if found.passed else FAILED


def working(options: argparse.Namespace) -> int:
    """Print the worked calculation."""
    from ..reports.worked import worked, worked_screen
    from ..verdict import NoSuchCaseError

    try:
        found = worked(read(options.file), case=options.case)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.check is not None:
        if options.check not in found.check_ids:
            return bad(
                f"--check {options.check!r}: there is no such check; there are {', '.join(found.check_ids)}"
            )
        found = found.of(options.check)
    sys.stdout.write(worked_screen(found))
    return PASSED if found.passed else FAILED


def cases(options: argparse.Namespace) -> int:
    """List cases and states of the sails."""
    from ..design import case_list
    from ..reports.cases import cases_json, cases_screen

    found = case_list(read(options.file))
    sys.stdout.write(cases_json(found) if options.json else cases_screen(found))
    return PASSED


def reef(options: argparse.Namespace) -> int:
    """Print when to take sail in."""
    from .. import units
    from ..design import reefing_table
    from ..reports.reef import reefing_json, reefing_screen

    rig = read(options.file)
    if not rig.sails:
        return bad(f"{options.file}: there is no [[sail]] to reef")
    wind = {}
    if options.wind is not None:
        try:
            wind = {"wind_m_s": units.parse(options.wind, "m/s")}
        except units.UnitError as error:
            return bad(f"--wind {error}")
        if not 0.0 < wind["wind_m_s"] <= 60.0:
            return bad("--wind must be above 0 and at most 60 m/s")
    found = reefing_table(rig, **wind)
    sys.stdout.write(reefing_json(found) if options.json else reefing_screen(found))
    return PASSED


def laminate(options: argparse.Namespace) -> int:
    """Print what the laminates are."""
    from .. import units
    from ..reports.laminate import NoSuchLaminateError, laminate_json, laminate_screen, laminate_sheet

    height = None
    if options.height is not None:
        try:
            height = units.parse(options.height, "m")
        except units.UnitError as error:
            return bad(f"--height {error}")
    try:
        sheet = laminate_sheet(read(options.file), name=options.name, height_m=height)
    except NoSuchLaminateError as error:
        return bad(f"{options.file}: {error}")
    sys.stdout.write(laminate_json(sheet) if options.json else laminate_screen(sheet))
    return PASSED


def bearings(options: argparse.Namespace) -> int:
    """Print what the mast stands and turns in."""
    from ..reports.bearings import bearings_json, bearings_screen
    from ..reports.terminal import is_of_bearings
    from ..verdict import check

    result = check(read(options.file))
    text = bearings_json(result) if options.json else bearings_screen(result, shown_in=options.units)
    sys.stdout.write(text)
    return PASSED if all(c.passed for c in result.checks if is_of_bearings(c.id)) else FAILED


def order(options: argparse.Namespace) -> int:
    """Print what to buy and cut."""
    from ..design.order import order
    from ..reports.order import order_json, order_screen
    from ..reports.order_csv import order_csv

    folder = "." if options.file == "-" else str(Path(options.file).parent)
    found = order(read(options.file), folder=folder)
    if options.json:
        sys.stdout.write(order_json(found))
    elif options.csv:
        sys.stdout.write(order_csv(found))
    else:
        sys.stdout.write(order_screen(found, shown_in=options.units))
    return PASSED


def explain(options: argparse.Namespace) -> int:
    """Tell what a check, a field or a word of the answer means."""
    from ..reports.explain import (
        UnknownWordError,
        explain,
        explain_json,
        explain_list_json,
        explain_list_screen,
        explain_screen,
    )

    if options.word is None:
        sys.stdout.write(explain_list_json() if options.json else explain_list_screen())
        return PASSED
    if options.word.endswith(".toml"):
        return bad(f"the word comes first: rigcalc explain {options.file or 'WORD'} {options.word}")
    rig = None if options.file is None else read(options.file)
    try:
        found = explain(options.word, rig)
    except UnknownWordError as error:
        return bad(f"{error}")
    sys.stdout.write(explain_json(found) if options.json else explain_screen(found))
    return PASSED if found.passed else FAILED


def materials(options: argparse.Namespace) -> int:
    """List materials, or show one."""
    from ..materials import MaterialError
    from ..reports.materials import material_list, material_sheet, own_sheets

    own = () if options.file is None else read(options.file).materials
    if options.file is not None and not own:
        return bad(f"{options.file}: there is no [[material]] in it")
    try:
        if options.name is not None:
            sys.stdout.write(material_sheet(options.name, own))
        else:
            sys.stdout.write(own_sheets(own) if own else material_list())
    except MaterialError as error:
        return bad(str(error))
    return PASSED


def new(options: argparse.Namespace) -> int:
    """Write a file to start from, or list what it may start from."""
    from ..rigfile import starter_text
    from ..rigfile.examples import example_files, example_title

    examples = example_files() if options.list or options.source else {}
    if options.list:
        if options.file is not None or options.source is not None or options.force:
            return bad("--list stands alone: it names the examples and writes nothing")
        if not examples:
            return bad("this copy of rigcalc came without its examples")
        width = max(map(len, examples))
        for name, file in examples.items():
            print(f"{name:<{width}}  {example_title(file)}")
        return PASSED
    if options.file is None:
        return bad("FILE is missing: the file to write, or - for standard output; --list names examples")
    text = starter_text()
    if options.source is not None:
        name = options.source.removesuffix(".toml")
        if name not in examples:
            import difflib

            near = difflib.get_close_matches(name, examples, n=1, cutoff=0.5)
            hint = f"Did you mean {near[0]}?" if near else "`rigcalc new --list` names them."
            return bad(f"--from {options.source}: there is no such example. {hint}")
        text = examples[name].read_text(encoding="utf-8")
    if options.file == "-":
        sys.stdout.write(text)
        return PASSED
    try:
        with Path(options.file).open("w" if options.force else "x", encoding="utf-8", newline="\n") as out:
            out.write(text)
    except FileExistsError:
        return bad(f"{options.file} exists; choose another name, or write over it with --force")
    except OSError as error:
        return bad(f"{options.file}: {error.strerror or error}")
    print(f"Wrote {options.file}. Edit it, then run: rigcalc check {options.file}", file=sys.stderr)
    return PASSED


def schema(options: argparse.Namespace) -> int:
    """Print the schema of a rig file."""
    import json

    from ..rigfile import rig_schema

    sys.stdout.write(json.dumps(rig_schema(), indent=2, ensure_ascii=False) + "\n")
    return PASSED
