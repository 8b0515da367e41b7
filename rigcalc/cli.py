"""The command line: reads the words, calls one function each, and says how it went by its exit code.

Heavy imports stand inside the commands, so that ``--help`` costs no more than argparse.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from .version import __version__

if TYPE_CHECKING:
    from .rig import Rig

PASSED, FAILED, BAD_INPUT, INTERNAL = 0, 1, 2, 70
INTERRUPTED = 130

_EPILOG = """\
examples:
  rigcalc new my-boat.toml            write a commented rig file to start from
  rigcalc check my-boat.toml          loads, stresses, buckling, deflection, verdict
  rigcalc check my-boat.toml --json   the same for another program
  rigcalc working my-boat.toml        every number that governs, worked to be followed by hand
  rigcalc reef my-boat.toml           in which wind to take sail in
  rigcalc order my-boat.toml          what to buy and cut for its mast

  rigcalc plot my-boat.toml --what all -o figures.pdf
  rigcalc report my-boat.toml -o my-boat.html
                                      everything in one page for a screen; .pdf for paper
  rigcalc laminate my-boat.toml       stiffness, strains and mass of its laminates
  rigcalc export my-boat.toml --to csv -o mast.csv
                                      the stations for a spreadsheet; inp for finite elements
  rigcalc materials "6061-T6 drawn"   what a material is taken to bear, and from where

exit codes:
  0 every check passes; 1 worked out, and a check fails; 2 bad usage or input;
  70 a fault in rigcalc itself

A falling mast can kill. rigcalc is an aid to judgement, not a licence to build:
have a naval architect or surveyor review what it says.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words of the command line; those of the process when not given.

    Returns
    -------
    int
        Exit code.
    """
    parser = _parser()
    try:
        options = parser.parse_args(arguments)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else BAD_INPUT
    from .errors import RigInputError

    _say_everything()
    try:
        code: int = options.run(options)
        sys.stdout.flush()
        return code
    except RigInputError as error:
        return _bad(f"{options.file}: {error}")
    except _UnusableError as error:
        return _bad(str(error))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # the reader went away: nothing is left to say, nor anyone to say it to
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PASSED
    except Exception:  # a fault of ours: its traceback is what a report of it needs
        traceback.print_exc()
        print("rigcalc: this is a fault in rigcalc, not in your file; please report it.", file=sys.stderr)
        return INTERNAL


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="rigcalc",
        description="Size a freestanding mast: from a rig file to loads, stresses, buckling, deflection and a verdict.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"rigcalc {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="check a rig in all its cases", allow_abbrev=False)
    check.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    check.add_argument("--json", action="store_true", help="print the result as JSON")
    check.add_argument("--stations", action="store_true", help="with --json, add the values along the mast")
    check.add_argument(
        "--limits", action="store_true", help="print every check in full, with formula and cure"
    )
    check.add_argument("--case", metavar="NAME", help="run this case only")
    check.add_argument(
        "--units",
        choices=("both", "metric", "us"),
        default="both",
        help="units of the text answer (default: both)",
    )
    check.set_defaults(run=_check)

    working = commands.add_parser(
        "working", help="work out what governs, so that it can be followed by hand", allow_abbrev=False
    )
    working.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    working.add_argument("--check", metavar="ID", help="work out this check only")
    working.add_argument("--case", metavar="NAME", help="run this case only")
    working.set_defaults(run=_working)

    cases = commands.add_parser(
        "cases", help="list the cases and the states of the sails", allow_abbrev=False
    )
    cases.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    cases.add_argument("--json", action="store_true", help="print the list as JSON")
    cases.set_defaults(run=_cases)

    reef = commands.add_parser(
        "reef", help="tell in which wind each state of the sails has had enough", allow_abbrev=False
    )
    reef.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    reef.add_argument(
        "--wind", metavar="SPEED", help='wind for heel and gust, such as "20 kn" (default: top of force 5)'
    )
    reef.add_argument("--json", action="store_true", help="print the table as JSON")
    reef.set_defaults(run=_reef)

    laminate = commands.add_parser(
        "laminate", help="tell stiffness, strains and mass of the laminates of a rig", allow_abbrev=False
    )
    laminate.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    laminate.add_argument("--name", metavar="NAME", help="this laminate only")
    laminate.add_argument("--height", metavar="HEIGHT", help='at this height z only, such as "1.2 m"')
    laminate.add_argument("--json", action="store_true", help="print the figures as JSON")
    laminate.set_defaults(run=_laminate)

    order = commands.add_parser(
        "order", help="tell what to buy and cut for the mast, with its weight", allow_abbrev=False
    )
    order.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    form = order.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="print it as CSV, for a spreadsheet")
    form.add_argument("--json", action="store_true", help="print it as JSON")
    order.add_argument(
        "--units", choices=("both", "metric", "us"), default="both", help="units of the text (default: both)"
    )
    order.set_defaults(run=_order)

    report = commands.add_parser(
        "report", help="write everything as one report: HTML, PDF or Markdown", allow_abbrev=False
    )
    report.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    report.add_argument(
        "-o",
        "--output",
        metavar="PATH",
        help="file to write, .html, .pdf or .md (default: HTML or Markdown on standard output)",
    )
    kind = report.add_mutually_exclusive_group()
    for name, what in (("html", "HTML"), ("pdf", "PDF"), ("markdown", "Markdown")):
        kind.add_argument(
            f"--{name}",
            action="store_const",
            const=name,
            dest="form",
            help=f"write {what}, whatever the suffix",
        )
    report.add_argument("--paper", choices=("a4", "letter"), help="paper of a PDF (default: a4)")
    report.add_argument("--case", metavar="NAME", help="run this case only")
    report.add_argument(
        "--units",
        choices=("metric", "us"),
        default="metric",
        help="units of tables and figures (default: metric)",
    )
    report.set_defaults(run=_report)

    bearings = commands.add_parser(
        "bearings", help="tell of bearings, what the hull must carry, and furling", allow_abbrev=False
    )
    bearings.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    bearings.add_argument("--json", action="store_true", help="print it as JSON")
    bearings.add_argument(
        "--units", choices=("both", "metric", "us"), default="both", help="units of the text (default: both)"
    )
    bearings.set_defaults(run=_bearings)

    export = commands.add_parser(
        "export", help="write the stations, or a finite-element deck, for a reviewer", allow_abbrev=False
    )
    export.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    export.add_argument(
        "--to",
        required=True,
        choices=("csv", "json", "inp"),
        help="stations as csv or json, or a beam model with the loads of every case as an input deck",
    )
    export.add_argument("-o", metavar="PATH", dest="out", help="file to write (default: standard output)")
    export.add_argument("--case", metavar="NAME", help="this case only")
    export.set_defaults(run=_export)

    plot = commands.add_parser("plot", help="draw figures of a rig: svg, png or pdf", allow_abbrev=False)
    plot.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    plot.add_argument(
        "--what",
        metavar="NAME",
        action="append",
        required=True,
        help="which figure; may be given more than once; all draws every one, list names them",
    )
    plot.add_argument(
        "-o",
        "--output",
        metavar="PATH",
        help="file to write, .svg, .png or .pdf; several figures go into one .pdf, or as .svg into a folder",
    )
    plot.add_argument("--case", metavar="NAME", help="run this case only")
    plot.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units of the figures (default: metric)"
    )
    plot.set_defaults(run=_plot)

    materials = commands.add_parser("materials", help="list materials, or show one", allow_abbrev=False)
    materials.add_argument("name", metavar="NAME", nargs="?", help="name of a material")
    materials.add_argument(
        "--own",
        metavar="FILE",
        dest="file",
        help="rig file whose own materials are shown, or come before the tables; - reads standard input",
    )
    materials.set_defaults(run=_materials)

    new = commands.add_parser("new", help="write a commented rig file to start from", allow_abbrev=False)
    new.add_argument("file", metavar="FILE", help="file to write; - writes to standard output")
    new.set_defaults(run=_new)

    schema = commands.add_parser("schema", help="print the JSON Schema of a rig file", allow_abbrev=False)
    schema.set_defaults(run=_schema)
    return parser


def _check(options: argparse.Namespace) -> int:
    from .reports import as_json, limits_screen, screen
    from .verdict import NoSuchCaseError, check

    if options.stations and not options.json:
        return _bad("--stations goes with --json")
    if options.limits and options.json:
        return _bad("--limits is of the text answer; --json has every check in full")
    try:
        result = check(_rig(options.file), case=options.case)
    except NoSuchCaseError as error:
        return _bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.json:
        sys.stdout.write(as_json(result, stations=options.stations))
    elif options.limits:
        sys.stdout.write(limits_screen(result, shown_in=options.units))
    else:
        sys.stdout.write(screen(result, shown_in=options.units, colour=_takes_colour(sys.stdout)))
    return PASSED if result.passed else FAILED


def _working(options: argparse.Namespace) -> int:
    from .reports.worked import worked, worked_screen
    from .verdict import NoSuchCaseError

    try:
        found = worked(_rig(options.file), case=options.case)
    except NoSuchCaseError as error:
        return _bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.check is not None:
        if options.check not in found.check_ids:
            return _bad(
                f"--check {options.check!r}: there is no such check; there are {', '.join(found.check_ids)}"
            )
        found = found.of(options.check)
    sys.stdout.write(worked_screen(found))
    return PASSED if found.passed else FAILED


def _cases(options: argparse.Namespace) -> int:
    from .design import case_list
    from .reports.cases import cases_json, cases_screen

    found = case_list(_rig(options.file))
    sys.stdout.write(cases_json(found) if options.json else cases_screen(found))
    return PASSED


def _reef(options: argparse.Namespace) -> int:
    from . import units
    from .design import reefing_table
    from .reports.reef import reefing_json, reefing_screen

    rig = _rig(options.file)
    if not rig.sails:
        return _bad(f"{options.file}: there is no [[sail]] to reef")
    wind = {}
    if options.wind is not None:
        try:
            wind = {"wind_m_s": units.parse(options.wind, "m/s")}
        except units.UnitError as error:
            return _bad(f"--wind {error}")
        if not 0.0 < wind["wind_m_s"] <= 60.0:
            return _bad("--wind must be above 0 and at most 60 m/s")
    found = reefing_table(rig, **wind)
    sys.stdout.write(reefing_json(found) if options.json else reefing_screen(found))
    return PASSED


def _laminate(options: argparse.Namespace) -> int:
    from . import units
    from .reports.laminate import NoSuchLaminateError, laminate_json, laminate_screen, laminate_sheet

    height = None
    if options.height is not None:
        try:
            height = units.parse(options.height, "m")
        except units.UnitError as error:
            return _bad(f"--height {error}")
    try:
        sheet = laminate_sheet(_rig(options.file), name=options.name, height_m=height)
    except NoSuchLaminateError as error:
        return _bad(f"{options.file}: {error}")
    sys.stdout.write(laminate_json(sheet) if options.json else laminate_screen(sheet))
    return PASSED


def _order(options: argparse.Namespace) -> int:
    from .design.order import order
    from .reports.order import order_json, order_screen
    from .reports.order_csv import order_csv

    folder = "." if options.file == "-" else str(Path(options.file).parent)
    found = order(_rig(options.file), folder=folder)
    if options.json:
        sys.stdout.write(order_json(found))
    elif options.csv:
        sys.stdout.write(order_csv(found))
    else:
        sys.stdout.write(order_screen(found, shown_in=options.units))
    return PASSED


def _bearings(options: argparse.Namespace) -> int:
    from .reports.bearings import bearings_json, bearings_screen
    from .reports.terminal import is_of_bearings
    from .verdict import check

    result = check(_rig(options.file))
    text = bearings_json(result) if options.json else bearings_screen(result, shown_in=options.units)
    sys.stdout.write(text)
    return PASSED if all(c.passed for c in result.checks if is_of_bearings(c.id)) else FAILED


def _report(options: argparse.Namespace) -> int:
    from .reports.sheet import SUFFIXES, document_of, html_of, markdown_of, save_pdf
    from .rigfile import rig_of_bytes
    from .verdict import NoSuchCaseError, checked

    path = None if options.output is None else Path(options.output)
    form = options.form
    if form is None:
        form = "html" if path is None else SUFFIXES.get(path.suffix.lower())
        if form is None:
            return _bad(
                f"-o {path}: a report is written as {', '.join(SUFFIXES)}; or name --html, --pdf or --markdown"
            )
    if form == "pdf" and path is None:
        return _bad("-o is missing: a PDF is written to a file")
    if options.paper is not None and form != "pdf":
        return _bad("--paper is of a PDF; a browser asks for the paper when it prints")
    if path is not None and options.file != "-" and _same_file(options.file, str(path)):
        return _bad(f"-o {path} is the rig file itself; choose another name")
    raw = _raw(options.file)
    rig = rig_of_bytes(raw)
    try:
        done = checked(rig, case=options.case)
    except NoSuchCaseError as error:
        return _bad(f"--case {error}: there is no such case; leave --case out to see them all")
    here = options.file == "-"
    document = document_of(
        rig,
        raw=raw,
        name="standard input" if here else Path(options.file).name,
        folder="." if here else str(Path(options.file).parent),
        case=options.case,
        shown=options.units,
        done=done,
    )
    code = PASSED if done.result.passed else FAILED
    if path is None:
        sys.stdout.write(html_of(document) if form == "html" else markdown_of(document))
        return code
    try:
        if form == "pdf":
            save_pdf(document, path, paper=options.paper or "a4")
        else:
            text = html_of(document) if form == "html" else markdown_of(document)
            path.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        return _bad(f"-o {path}: {error.strerror or error}")
    print(f"Wrote {path}: {done.result.verdict.upper()}.", file=sys.stderr)
    return code


def _export(options: argparse.Namespace) -> int:
    from .reports.exports import export
    from .verdict import NoSuchCaseError

    if options.out is not None and options.file != "-" and _same_file(options.file, options.out):
        return _bad(f"-o {options.out} is the rig file itself; choose another name")
    try:
        text = export(_rig(options.file), to=options.to, case=options.case)
    except NoSuchCaseError as error:
        return _bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.out is None:
        sys.stdout.write(text)
        return PASSED
    try:
        Path(options.out).write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        return _bad(f"-o {options.out}: {error.strerror or error}")
    print(f"Wrote {options.out}.", file=sys.stderr)
    return PASSED


def _same_file(one: str, other: str) -> bool:
    try:
        return Path(one).samefile(other)
    except OSError:
        return False


def _plot(options: argparse.Namespace) -> int:
    from .reports.figures import FORMATS, KINDS, figures_of, left_out, save, save_pages
    from .verdict import NoSuchCaseError, check

    known = [kind.name for kind in KINDS]
    for name in options.what:
        if name not in (*known, "all", "list"):
            return _bad(f"--what {name}: there is no such figure; there are {', '.join(known)}, and all")
    listing = "list" in options.what
    names = known if "all" in options.what or listing else list(dict.fromkeys(options.what))
    path, pages, folder = Path(options.output or ""), False, False
    if listing:
        if len(options.what) > 1 or options.output is not None:
            return _bad("--what list stands alone: it names the figures and draws none")
    elif options.output is None:
        return _bad("-o is missing: the file to write, .svg, .png or .pdf, or a folder")
    else:
        kind = path.suffix.lower().removeprefix(".")
        folder = path.is_dir() or not kind
        if not folder and kind not in FORMATS:
            return _bad(f"-o {path}: figures are written as .svg, .png or .pdf")
        pages = kind == "pdf" and not folder
        if not folder and not pages and len(names) > 1:
            return _bad(f"-o {path}: several figures go into one .pdf, or into a folder")
    rig = _rig(options.file)
    try:
        result = check(rig, case=options.case)
    except NoSuchCaseError as error:
        return _bad(f"--case {error}: there is no such case; leave --case out to see them all")
    missing = {left.name: left.why for left in left_out(rig, result, names=names)}
    if listing:
        for kind_of in KINDS:
            why = f" (left out: {missing[kind_of.name]})" if kind_of.name in missing else ""
            print(f"{kind_of.name:<12} {kind_of.shows}{why}")
        return PASSED
    for name, why in missing.items():
        print(f"rigcalc: {name} is left out: {why}", file=sys.stderr)
    figures = figures_of(rig, result, shown=options.units, names=names)
    if not figures:
        return BAD_INPUT
    try:
        if pages:
            save_pages(figures, path)
        elif folder:
            path.mkdir(parents=True, exist_ok=True)
            for drawn in figures:
                save(drawn, path / f"{drawn.name}.svg")
        else:
            save(figures[0], path)
    except OSError as error:
        return _bad(f"{path}: {error.strerror or error}")
    print(f"Wrote {path}: {', '.join(drawn.name for drawn in figures)}.", file=sys.stderr)
    return PASSED if result.passed else FAILED


class _UnusableError(Exception):
    """A file that cannot be worked with, and what to say of it."""


def _rig(path: str) -> Rig:
    from .rigfile import rig_of_bytes

    return rig_of_bytes(_raw(path))


def _raw(path: str) -> bytes:
    from .rigfile import rig_bytes

    try:
        return rig_bytes(path)
    except OSError as error:
        raise _UnusableError(
            f"{path}: {error.strerror or error}. Check the path, or write a file with `rigcalc new`."
        ) from None


def _materials(options: argparse.Namespace) -> int:
    from .materials import MaterialError
    from .reports.materials import material_list, material_sheet, own_sheets

    own = () if options.file is None else _rig(options.file).materials
    if options.file is not None and not own:
        return _bad(f"{options.file}: there is no [[material]] in it")
    try:
        if options.name is not None:
            sys.stdout.write(material_sheet(options.name, own))
        else:
            sys.stdout.write(own_sheets(own) if own else material_list())
    except MaterialError as error:
        return _bad(str(error))
    return PASSED


def _new(options: argparse.Namespace) -> int:
    from .rigfile import starter_text

    text = starter_text()
    if options.file == "-":
        sys.stdout.write(text)
        return PASSED
    try:
        with Path(options.file).open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        return _bad(f"{options.file} exists; choose another name, or move it away first")
    except OSError as error:
        return _bad(f"{options.file}: {error.strerror or error}")
    print(f"Wrote {options.file}. Edit it, then run: rigcalc check {options.file}", file=sys.stderr)
    return PASSED


def _schema(options: argparse.Namespace) -> int:
    import json

    from .rigfile import rig_schema

    sys.stdout.write(json.dumps(rig_schema(), indent=2, ensure_ascii=False) + "\n")
    return PASSED


def _bad(message: str) -> int:
    print(f"rigcalc: {message}", file=sys.stderr)
    return BAD_INPUT


def _say_everything() -> None:
    """Let no terminal or pipe of a narrow encoding stop an answer half way."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _takes_colour(stream: TextIO) -> bool:
    """Whether to colour: only on a terminal that can, and not where NO_COLOR is set and not empty."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
