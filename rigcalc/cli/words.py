"""The words of the command line."""

from __future__ import annotations

import argparse
from typing import TypeAlias

from ..version import __version__
from . import answers, files, searches

_EPILOG = """\
examples:
  rigcalc new my-boat.toml            write a commented rig file to start from
  rigcalc check my-boat.toml          loads, stresses, buckling, deflection, verdict
  rigcalc check my-boat.toml --json   the same for another program
  rigcalc check my-boat.toml --vary "mast.bury=0.6 m:1.2 m:7"
                                      what becomes of the mast when a number is varied
  rigcalc working my-boat.toml        every number that governs, worked to be followed by hand
  rigcalc reef my-boat.toml           in which wind to take sail in
  rigcalc size my-boat.toml           the lightest mast that passes
  rigcalc compare my-boat.toml        aluminium, timber and laminate side by side
  rigcalc doubt my-boat.toml          how sure the verdict is
  rigcalc order my-boat.toml          what to buy and cut for its mast

  rigcalc plot my-boat.toml --what all -o figures.pdf

  rigcalc drawing my-boat.toml -o mast.pdf
                                      the mast for the workshop; .svg and .dxf too
  rigcalc report my-boat.toml -o my-boat.html
                                      everything in one page for a screen; .pdf for paper
  rigcalc laminate my-boat.toml       stiffness, strains and mass of its laminates
  rigcalc export my-boat.toml --to csv -o mast.csv
                                      the stations for a spreadsheet; inp for finite elements
  rigcalc materials "6061-T6 drawn"   what a material is taken to bear, and from where

exit codes:
  0 every check passes; 1 worked out, and a check fails; 2 bad usage or input;
  3 no size in range passes; 70 a fault in rigcalc itself

A falling mast can kill. rigcalc is an aid to judgement, not a licence to build:
have a naval architect or surveyor review what it says.
"""


Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _command(commands: Commands, name: str, help: str) -> argparse.ArgumentParser:
    """Add a command that reads a rig file."""
    words = commands.add_parser(name, help=help, allow_abbrev=False)
    words.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    return words


def _units(words: argparse.ArgumentParser, default: str = "both") -> None:
    """Let the units of an answer be chosen."""
    choices = ("both", "metric", "us") if default == "both" else ("metric", "us")
    words.add_argument(
        "--units", choices=choices, default=default, help=f"units of the answer (default: {default})"
    )


def parser() -> argparse.ArgumentParser:
    """Return what reads the words of every command."""
    words = argparse.ArgumentParser(
        prog="rigcalc",
        description="Size a freestanding mast: from a rig file to loads, stresses, buckling, deflection and a verdict.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    words.add_argument("--version", action="version", version=f"rigcalc {__version__}")
    commands = words.add_subparsers(title="commands", required=True, metavar="COMMAND")

    check = _command(commands, "check", "check a rig in all its cases")
    check.add_argument("--json", action="store_true", help="print the result as JSON")
    check.add_argument("--stations", action="store_true", help="with --json, add the values along the mast")
    check.add_argument(
        "--limits", action="store_true", help="print every check in full, with formula and cure"
    )
    check.add_argument("--case", metavar="NAME", help="run this case only")
    check.add_argument(
        "--vary",
        metavar="PATH=FROM:TO:POINTS",
        action="append",
        help='check it at every point where a number of the file is varied, as "mast.bury=0.6 m:1.2 m:7", or '
        '"mast.stations[*].wall=x0.8:x1.2:5" with factors; given twice, at every pair',
    )
    check.add_argument("--csv", action="store_true", help="with --vary, print the table as CSV")
    check.add_argument(
        "--plot",
        metavar="OUT",
        help="with --vary, draw how much is used into an .svg or .png, or all of the table into a .pdf",
    )
    _units(check)
    check.set_defaults(run=answers.check)

    working = _command(commands, "working", "work out what governs, so that it can be followed by hand")
    working.add_argument("--check", metavar="ID", help="work out this check only")
    working.add_argument("--case", metavar="NAME", help="run this case only")
    working.set_defaults(run=answers.working)

    cases = _command(commands, "cases", "list the cases and the states of the sails")
    cases.add_argument("--json", action="store_true", help="print the list as JSON")
    cases.set_defaults(run=answers.cases)

    reef = _command(commands, "reef", "tell in which wind each state of the sails has had enough")
    reef.add_argument(
        "--wind", metavar="SPEED", help='wind for heel and gust, such as "20 kn" (default: top of force 5)'
    )
    reef.add_argument("--json", action="store_true", help="print the table as JSON")
    reef.set_defaults(run=answers.reef)

    laminate = _command(commands, "laminate", "tell stiffness, strains and mass of the laminates of a rig")
    laminate.add_argument("--name", metavar="NAME", help="this laminate only")
    laminate.add_argument("--height", metavar="HEIGHT", help='at this height z only, such as "1.2 m"')
    laminate.add_argument("--json", action="store_true", help="print the figures as JSON")
    laminate.set_defaults(run=answers.laminate)

    order = _command(commands, "order", "tell what to buy and cut for the mast, with its weight")
    form = order.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="print it as CSV, for a spreadsheet")
    form.add_argument("--json", action="store_true", help="print it as JSON")
    _units(order)
    order.set_defaults(run=answers.order)

    report = _command(commands, "report", "write everything as one report: HTML, PDF or Markdown")
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
    _units(report, "metric")
    report.set_defaults(run=files.report)

    size = _command(commands, "size", "find the best mast of tubes, staves or laminate that passes")
    size.add_argument(
        "--material",
        metavar="NAME",
        action="append",
        help="what to make it of; may be given more than once (default: that of the file's mast)",
    )
    size.add_argument(
        "--minimise", choices=("mass", "cost", "diameter"), help="in place of what [size] of the file says"
    )
    size.add_argument("--json", action="store_true", help="print the answer as JSON")
    size.add_argument("-o", "--output", metavar="PATH", help="write the rig with the mast that was found")
    _units(size)
    size.set_defaults(run=searches.size)

    compare = _command(commands, "compare", "size masts of several materials and set them side by side")
    compare.add_argument(
        "--material",
        metavar="NAME",
        action="append",
        help="what to make one of; may be given more than once (default: [size] materials, or one of each kind)",
    )
    compare.add_argument(
        "--vary",
        metavar="PATH=FROM:TO:POINTS",
        action="append",
        help="size them at every point where a number of the file is varied, as for check",
    )
    compare.add_argument("--plot", metavar="OUT", help="draw them into an .svg, .png or .pdf")
    form = compare.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the table as JSON")
    form.add_argument("--csv", action="store_true", help="print the table as CSV")
    _units(compare)
    compare.set_defaults(run=searches.compare)

    doubt = _command(commands, "doubt", "tell how sure the verdict is, and which input matters most")
    doubt.add_argument(
        "--samples", metavar="N", type=int, help="masts to try (default: [doubt] samples, or 10000)"
    )
    doubt.add_argument("--json", action="store_true", help="print the answer as JSON")
    doubt.add_argument(
        "--plot", metavar="OUT", help="draw which input matters most into an .svg, .png or .pdf"
    )
    doubt.set_defaults(run=searches.doubt)

    bearings = _command(commands, "bearings", "tell of bearings, what the hull must carry, and furling")
    bearings.add_argument("--json", action="store_true", help="print it as JSON")
    _units(bearings)
    bearings.set_defaults(run=answers.bearings)

    export = _command(commands, "export", "write the stations, or a finite-element deck, for a reviewer")
    export.add_argument(
        "--to",
        required=True,
        choices=("csv", "json", "inp"),
        help="stations as csv or json, or a beam model with the loads of every case as an input deck",
    )
    export.add_argument("-o", metavar="PATH", dest="out", help="file to write (default: standard output)")
    export.add_argument("--case", metavar="NAME", help="this case only")
    export.set_defaults(run=files.export)

    plot = _command(commands, "plot", "draw figures of a rig: svg, png or pdf")
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
    _units(plot, "metric")
    plot.set_defaults(run=files.plot)

    drawing = _command(commands, "drawing", "draw the mast for the workshop")
    drawing.add_argument(
        "-o", "--output", metavar="OUT", required=True, help="file to write: .pdf, .svg or .dxf (R12)"
    )
    drawing.add_argument(
        "--paper",
        choices=("A4", "A3", "A2", "A1", "letter", "tabloid"),
        default="A3",
        help="size of the sheets (default: A3)",
    )
    _units(drawing, "metric")
    drawing.set_defaults(run=files.drawing)

    explain = commands.add_parser(
        "explain", help="tell what a check, a field or a word means", allow_abbrev=False
    )
    explain.add_argument(
        "word", metavar="WORD", nargs="?", help="check, path of a field, or word of the answer"
    )
    explain.add_argument("file", metavar="FILE", nargs="?", help="rig file, to be told with its own numbers")
    explain.add_argument("--json", action="store_true", help="print it as JSON")
    explain.set_defaults(run=answers.explain)

    materials = commands.add_parser("materials", help="list materials, or show one", allow_abbrev=False)
    materials.add_argument("name", metavar="NAME", nargs="?", help="name of a material")
    materials.add_argument(
        "--own",
        metavar="FILE",
        dest="file",
        help="rig file whose own materials are shown, or come before the tables; - reads standard input",
    )
    materials.set_defaults(run=answers.materials)

    new = commands.add_parser("new", help="write a commented rig file to start from", allow_abbrev=False)
    new.add_argument("file", metavar="FILE", nargs="?", help="file to write; - writes to standard output")
    new.add_argument(
        "--from", metavar="NAME", dest="source", help="copy this example in place of the starter"
    )
    new.add_argument("--list", action="store_true", help="name the examples, and write nothing")
    new.add_argument("--force", action="store_true", help="write over a file that is there")
    new.set_defaults(run=answers.new)

    schema = commands.add_parser("schema", help="print the JSON Schema of a rig file", allow_abbrev=False)
    schema.set_defaults(run=answers.schema)
    return words
