"""Every command of the command line, with its own words; what several have in common stands once."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TypeAlias

from ..frozen import dataclass
from . import answers, files, searches

BOAT = "my-boat.toml"
"""The file of every example."""

EXIT_CODES = {
    "0": "it was done; where masts are checked, every check passes",
    "1": "worked out, and a check fails",
    "2": "bad usage or input; standard error tells what to mend",
    "3": "no size in range passes",
    "70": "a fault in rigcalc itself, to be reported",
    "130": "stopped by Ctrl-C; a search gives the best it has",
}
_CHECKED, _SEARCHED, _DONE = ("0", "1", "2"), ("0", "2", "3", "130"), ("0", "2")

Parser: TypeAlias = argparse.ArgumentParser
Run: TypeAlias = "Callable[[argparse.Namespace], int]"


@dataclass(frozen=True)
class Command:
    """One command.

    Parameters
    ----------
    name : str
        As it is typed.
    does : str
        What it does, in a line.
    run : callable
        Does it.
    words : callable
        Adds its own words to its parser.
    examples : tuple of (str, str)
        What stands behind ``rigcalc NAME``, and what it is for; all of them work in a folder that has `BOAT`.
    codes : tuple of str
        Exit codes it may give, beside 70.
    reads : bool
        Whether it reads a rig file, which is its first word.
    """

    name: str
    does: str
    run: Run
    words: Callable[[Parser], None]
    examples: tuple[tuple[str, str], ...]
    codes: tuple[str, ...] = _CHECKED
    reads: bool = True


# ---------------------------------------------------------------- what several commands have in common


def _json(words: Parser | argparse._ArgumentGroup, what: str = "the answer") -> None:
    words.add_argument("--json", action="store_true", help=f"print {what} as JSON, for another program")


def _csv(
    words: Parser | argparse._ArgumentGroup, help: str = "print the table as CSV, for a spreadsheet"
) -> None:
    words.add_argument("--csv", action="store_true", help=help)


def _json_or_csv(words: Parser) -> None:
    form = words.add_mutually_exclusive_group()
    _json(form)
    _csv(form)


def _case(words: Parser) -> None:
    words.add_argument("--case", metavar="NAME", help="run this case only; `rigcalc cases` names them")


def _units(words: Parser, default: str = "both") -> None:
    choices = ("both", "metric", "us") if default == "both" else ("metric", "us")
    words.add_argument(
        "--units", choices=choices, default=default, help=f"units of the answer (default: {default})"
    )


def _output(words: Parser, help: str, *, required: bool = False) -> None:
    words.add_argument("-o", "--output", metavar="PATH", required=required, help=help)


def _plot(words: Parser, what: str) -> None:
    words.add_argument("--plot", metavar="PATH", help=f"draw {what}")


def _vary(words: Parser, help: str) -> None:
    words.add_argument("--vary", metavar="PATH=FROM:TO:POINTS", action="append", help=help)


def _material(words: Parser, default: str) -> None:
    words.add_argument(
        "--material",
        metavar="NAME",
        action="append",
        help=f"what to make it of; may be given more than once (default: {default})",
    )


# ---------------------------------------------------------------- the words of each


def _check_words(words: Parser) -> None:
    _json(words)
    words.add_argument("--stations", action="store_true", help="with --json, add the values along the mast")
    words.add_argument(
        "--limits", action="store_true", help="print every check in full, with formula and cure"
    )
    _case(words)
    _vary(
        words,
        'check it at every point where a number of the file is varied, as "mast.bury=0.6 m:1.2 m:7", or '
        '"mast.stations[*].wall=x0.8:x1.2:5" with factors; given twice, at every pair',
    )
    _csv(words, "with --vary, print the table as CSV, for a spreadsheet")
    _plot(words, "with --vary, how much is used into an .svg or .png, or all of the table into a .pdf")
    _units(words)


def _working_words(words: Parser) -> None:
    words.add_argument("--check", metavar="NAME", help="work out this check only")
    _case(words)


def _reef_words(words: Parser) -> None:
    words.add_argument(
        "--wind", metavar="SPEED", help='wind for heel and gust, such as "20 kn" (default: top of force 5)'
    )
    _json(words)


def _laminate_words(words: Parser) -> None:
    words.add_argument("--name", metavar="NAME", help="this laminate only")
    words.add_argument("--height", metavar="HEIGHT", help='at this height z only, such as "1.2 m"')
    _json(words)


def _bearings_words(words: Parser) -> None:
    _json(words)
    _units(words)


def _size_words(words: Parser) -> None:
    _material(words, "that of the file's mast")
    words.add_argument(
        "--minimise", choices=("mass", "cost", "diameter"), help="in place of what [size] of the file says"
    )
    _json(words)
    _output(words, "write the rig with the mast that was found")
    _units(words)


def _compare_words(words: Parser) -> None:
    _material(words, "[size] materials, or one of each kind")
    _vary(words, "size them at every point where a number of the file is varied, as for check")
    _plot(words, "them side by side into an .svg, .png or .pdf")
    _json_or_csv(words)
    _units(words)


def _doubt_words(words: Parser) -> None:
    words.add_argument(
        "--samples", metavar="N", type=int, help="masts to try (default: [doubt] samples, or 10000)"
    )
    _json(words)
    _plot(words, "which input matters most into an .svg, .png or .pdf")


def _order_words(words: Parser) -> None:
    _json_or_csv(words)
    _units(words)


def _report_words(words: Parser) -> None:
    _output(words, "file to write, .html, .pdf or .md (default: HTML or Markdown on standard output)")
    kind = words.add_mutually_exclusive_group()
    for name, what in (("html", "HTML"), ("pdf", "PDF"), ("markdown", "Markdown")):
        kind.add_argument(
            f"--{name}",
            action="store_const",
            const=name,
            dest="form",
            help=f"write {what}, whatever the suffix",
        )
    words.add_argument(
        "--with",
        choices=("compare", "doubt"),
        action="append",
        dest="also",
        help="put this in too, though it takes some seconds: masts of other materials, or how sure the verdict is; "
        "may be given twice",
    )
    words.add_argument(
        "--paper", choices=("a4", "letter"), type=str.lower, help="paper of a PDF (default: a4)"
    )
    _case(words)
    _units(words, "metric")


def _plot_words(words: Parser) -> None:
    words.add_argument(
        "--what",
        metavar="NAME",
        action="append",
        required=True,
        help="which figure; may be given more than once; list names them, all draws those that need no search",
    )
    _output(
        words, "file to write, .svg, .png or .pdf; several figures go into one .pdf, or as .svg into a folder"
    )
    _case(words)
    _units(words, "metric")


def _drawing_words(words: Parser) -> None:
    _output(words, "file to write: .pdf, .svg or .dxf (R12)", required=True)
    sizes = ("A4", "A3", "A2", "A1", "letter", "tabloid")
    words.add_argument(
        "--paper",
        choices=sizes,
        type=lambda text: next((size for size in sizes if size.lower() == text.lower()), text),
        default="A3",
        help="size of the sheets (default: A3)",
    )
    _units(words, "metric")


def _export_words(words: Parser) -> None:
    words.add_argument(
        "--to",
        required=True,
        choices=("csv", "json", "inp"),
        help="stations as csv or json, or a beam model with the loads of every case as an input deck",
    )
    _output(words, "file to write (default: standard output)")
    _case(words)


def _explain_words(words: Parser) -> None:
    words.add_argument(
        "word",
        metavar="WORD",
        nargs="?",
        help="check, path of a field, or word of the answer (default: list all)",
    )
    words.add_argument("file", metavar="FILE", nargs="?", help="rig file, to be told with its own numbers")
    _json(words)


def _materials_words(words: Parser) -> None:
    words.add_argument("name", metavar="NAME", nargs="?", help="name of a material (default: list all)")
    words.add_argument(
        "--own",
        metavar="FILE",
        dest="file",
        help="rig file whose own materials are shown, or come before the tables; - reads standard input",
    )


def _new_words(words: Parser) -> None:
    words.add_argument("file", metavar="FILE", nargs="?", help="file to write; - writes to standard output")
    words.add_argument(
        "--from", metavar="NAME", dest="source", help="copy this example in place of the starter"
    )
    words.add_argument("--list", action="store_true", help="name the examples, and write nothing")
    words.add_argument("--force", action="store_true", help="write over a file that is there")


def _no_words(words: Parser) -> None:
    """Add nothing: the command has no words of its own."""


GROUPS: dict[str, tuple[Command, ...]] = {
    "start": (
        Command(
            "new",
            "write a commented rig file to start from, or copy an example",
            answers.new,
            _new_words,
            (
                (BOAT, "a small commented file that passes; edit it"),
                ("--list", "the examples that come with rigcalc"),
                ("--from trailer_sailer_4m6 trailer.toml", "one of them, to look at or to change"),
            ),
            _DONE,
            reads=False,
        ),
        Command(
            "materials",
            "list materials, or show one with its strengths and sources",
            answers.materials,
            _materials_words,
            (
                ("", "every metal, timber, ply, fibre, resin and foam"),
                ('"Sitka spruce (US)"', "one in full, and what is allowed of it"),
            ),
            _DONE,
            reads=False,
        ),
        Command(
            "explain",
            "tell what a check, a field of the file or a word of the answer means",
            answers.explain,
            _explain_words,
            (
                ("", "every check in a line"),
                ("yield", "what it means, its formula and source, and how to cure it"),
                (f"yield {BOAT}", "the same with the numbers of that rig"),
                ("mast.bury", "a field of the rig file: unit, bounds, default"),
            ),
            reads=False,
        ),
        Command(
            "schema",
            "print the JSON Schema of a rig file, for an editor",
            answers.schema,
            _no_words,
            (("", "every key with its description"),),
            _DONE,
            reads=False,
        ),
    ),
    "check": (
        Command(
            "check",
            "check a rig in all its cases: loads, stresses, buckling, deflection, verdict",
            answers.check,
            _check_words,
            (
                (BOAT, "the verdict on one screen"),
                (f"{BOAT} --limits", "every check in full"),
                (f"{BOAT} --json", "everything, for another program"),
                (
                    f'{BOAT} --vary "mast.bury=0.7 m:0.8 m:3"',
                    "what becomes of the mast when a number is varied",
                ),
            ),
        ),
        Command(
            "working",
            "work out what governs, line by line, to be followed by hand",
            answers.working,
            _working_words,
            (
                (BOAT, "load, bearings and every check where it governs"),
                (f"{BOAT} --check yield", "one check alone"),
            ),
        ),
        Command(
            "cases",
            "list the cases and the states of the sails",
            answers.cases,
            lambda words: _json(words, "the list"),
            ((BOAT, "each case with its reason"), (f"{BOAT} --json", "the same for another program")),
            _DONE,
        ),
        Command(
            "reef",
            "tell in which wind each state of the sails has had enough",
            answers.reef,
            _reef_words,
            ((BOAT, "when to take sail in"), (f'{BOAT} --wind "20 kn"', "how she settles in that wind")),
            _DONE,
        ),
        Command(
            "bearings",
            "tell of bearings, what the hull must carry, and furling",
            answers.bearings,
            _bearings_words,
            ((BOAT, "partners and step in every case"), (f"{BOAT} --units us", "in pounds, feet and inches")),
        ),
        Command(
            "laminate",
            "tell stiffness, strains and mass of the laminates of a rig",
            answers.laminate,
            _laminate_words,
            (
                (
                    "glass.toml",
                    "of every laminate; get the file by: rigcalc new --from glass_tube_5m glass.toml",
                ),
                ('glass.toml --height "1.2 m"', "at one height"),
            ),
            _DONE,
        ),
    ),
    "design": (
        Command(
            "size",
            "find the best mast of tubes, staves or laminate that passes",
            searches.size,
            _size_words,
            (
                (BOAT, "the lightest of the file's own material"),
                (
                    f'{BOAT} --material "Sitka spruce (US)" -o sized.toml',
                    "of spruce, and write the rig with it",
                ),
            ),
            _SEARCHED,
        ),
        Command(
            "compare",
            "size masts of several materials and set them side by side",
            searches.compare,
            _compare_words,
            (
                (BOAT, "aluminium, timber and laminate"),
                (f'{BOAT} --material "6082-T6 drawn" --material "Sitka spruce (US)"', "two of your choice"),
            ),
            _SEARCHED,
        ),
        Command(
            "doubt",
            "tell how sure the verdict is, and which input matters most",
            searches.doubt,
            _doubt_words,
            (
                (BOAT, "the chance that each check fails"),
                (f"{BOAT} --samples 2000", "sooner, and less surely"),
            ),
        ),
    ),
    "buy": (
        Command(
            "order",
            "tell what to buy and cut for the mast, with its weight",
            answers.order,
            _order_words,
            ((BOAT, "tubes, boards or cloth, and how to cut them"), (f"{BOAT} --csv", "for a spreadsheet")),
            _DONE,
        ),
    ),
    "show": (
        Command(
            "report",
            "write everything as one report: HTML, PDF or Markdown",
            files.report,
            _report_words,
            (
                (f"{BOAT} -o my-boat.html", "one page for a screen, without anything else beside it"),
                (f"{BOAT} -o my-boat.pdf --paper letter", "for paper"),
            ),
        ),
        Command(
            "plot",
            "draw figures of a rig: SVG, PNG or PDF",
            files.plot,
            _plot_words,
            (
                (f"{BOAT} --what list", "the figures there are"),
                (f"{BOAT} --what all -o figures.pdf", "all of them"),
                (f"{BOAT} --what boat -o boat.svg", "one"),
            ),
        ),
        Command(
            "drawing",
            "draw the mast for the workshop: PDF, SVG or DXF",
            files.drawing,
            _drawing_words,
            (
                (f"{BOAT} -o mast.pdf", "to scale, on A3"),
                (f"{BOAT} -o mast.dxf --paper A2", "for a drawing program"),
            ),
        ),
        Command(
            "export",
            "write the stations, or a finite-element deck, for a reviewer",
            files.export,
            _export_words,
            (
                (f"{BOAT} --to csv -o mast.csv", "a spreadsheet"),
                (f"{BOAT} --to inp -o mast.inp", "finite elements"),
            ),
            _DONE,
        ),
    ),
}
"""What is done first to what is done last -> its commands."""

COMMANDS = {command.name: command for group in GROUPS.values() for command in group}
