"""Commands that write files: figures, the drawing, tables and decks."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from .common import BAD_INPUT, FAILED, INTERRUPTED, PASSED, bad, folder_of, raw_of, read, same_file, tell


def export(options: argparse.Namespace) -> int:
    """Write the stations, or a deck for finite elements."""
    from ..reports.exports import export
    from ..verdict import NoSuchCaseError

    if options.output is not None and options.file != "-" and same_file(options.file, options.output):
        return bad(f"-o {options.output} is the rig file itself; choose another name")
    try:
        text = export(read(options.file), to=options.to, case=options.case)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    if options.output is None:
        sys.stdout.write(text)
        return PASSED
    try:
        Path(options.output).write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        return bad(f"-o {options.output}: {error.strerror or error}")
    print(f"Wrote {options.output}.", file=sys.stderr)
    return PASSED


def plot(options: argparse.Namespace) -> int:
    """Draw figures."""
    from ..reports.figures import FORMATS, KINDS, SEARCHED, figures_of, left_out, save, save_pages
    from ..verdict import NoSuchCaseError, check

    usual = [kind.name for kind in KINDS]
    known = [*usual, *(kind.name for kind in SEARCHED)]
    for name in options.what:
        if name not in (*known, "all", "list"):
            return bad(f"--what {name}: there is no such figure; there are {', '.join(known)}, and all")
    listing = "list" in options.what
    named = [name for name in dict.fromkeys(options.what) if name not in ("all", "list")]
    names = list(dict.fromkeys([*usual, *named])) if "all" in options.what or listing else named
    path, pages, folder = Path(options.output or ""), False, False
    if listing:
        if len(options.what) > 1 or options.output is not None:
            return bad("--what list stands alone: it names the figures and draws none")
    elif options.output is None:
        return bad("-o is missing: the file to write, .svg, .png or .pdf, or a folder")
    else:
        kind = path.suffix.lower().removeprefix(".")
        folder = os.path.isdir(path) or not kind  # Path.is_dir raises where a name is too long
        if not folder and kind not in FORMATS:
            return bad(f"-o {path}: figures are written as .svg, .png or .pdf")
        pages = kind == "pdf" and not folder
        if not folder and not pages and len(names) > 1:
            return bad(f"-o {path}: several figures go into one .pdf, or into a folder")
    rig = read(options.file)
    try:
        result = check(rig, case=options.case)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    missing = {left.name: left.why for left in left_out(rig, result, names=names)}
    if listing:
        for kind_of in (*KINDS, *SEARCHED):
            why = f" (left out: {missing[kind_of.name]})" if kind_of.name in missing else ""
            print(f"{kind_of.name:<12} {kind_of.shows}{why}")
        return PASSED
    for name, why in missing.items():
        print(f"rigcalc: {name} is left out: {why}", file=sys.stderr)
    figures = figures_of(rig, result, shown=options.units, names=names, folder=str(folder_of(options.file)))
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
        return bad(f"{path}: {error.strerror or error}")
    print(f"Wrote {path}: {', '.join(drawn.name for drawn in figures)}.", file=sys.stderr)
    return PASSED if result.passed else FAILED


def drawing(options: argparse.Namespace) -> int:
    """Draw the mast for the workshop."""
    out = Path(options.output)
    if out.suffix.lower() not in (".pdf", ".svg", ".dxf"):
        return bad(
            f"-o {options.output}: a drawing is written as .pdf, .svg or .dxf, told by the end of its name"
        )
    from ..reports.drawing import WRITERS, drawing_of, missing_letters
    from ..rigfile import rig_of_bytes
    from ..verdict import check

    raw = raw_of(options.file)
    rig = rig_of_bytes(raw)
    result = check(rig)
    drawing = drawing_of(rig, result, paper=options.paper, shown_in=options.units, raw=raw)
    data = WRITERS[out.suffix.lower()](drawing)
    try:
        out.write_bytes(data)
    except OSError as error:
        return bad(f"{options.output}: {error.strerror or error}")
    missing = missing_letters(drawing) if out.suffix.lower() == ".pdf" else ""
    if missing:
        print(f"rigcalc: the font of the PDF has no {' '.join(missing)}; the .svg has.", file=sys.stderr)
    sheets = "1 sheet" if len(drawing.sheets) == 1 else f"{len(drawing.sheets)} sheets"
    said = "Not approved for construction: have it reviewed."
    if not result.passed:
        said = f"The check of this mast FAILS: do not build it. {said}"
    print(f"Wrote {options.output}, {sheets} of {options.paper}. {said}", file=sys.stderr)
    return PASSED if result.passed else FAILED


def report(options: argparse.Namespace) -> int:
    """Write everything as one report."""
    from ..design.compare import compare
    from ..design.doubt import doubt
    from ..design.sizing import Watch
    from ..reports.sheet import SUFFIXES, report
    from ..rigfile import rig_of_bytes
    from ..verdict import NoSuchCaseError, checked

    path = None if options.output is None else Path(options.output)
    form = options.form
    if form is None:
        form = "html" if path is None else SUFFIXES.get(path.suffix.lower())
        if form is None:
            return bad(
                f"-o {path}: a report is written as {', '.join(SUFFIXES)}; or name --html, --pdf or --markdown"
            )
    if form == "pdf" and path is None:
        return bad("-o is missing: a PDF is written to a file")
    if options.paper is not None and form != "pdf":
        return bad("--paper is of a PDF; a browser asks for the paper when it prints")
    if path is not None and options.file != "-" and same_file(options.file, str(path)):
        return bad(f"-o {path} is the rig file itself; choose another name")
    if path is not None and not path.parent.is_dir():
        return bad(f"-o {path}: there is no such folder")
    raw = raw_of(options.file)
    rig = rig_of_bytes(raw)
    try:
        done = checked(rig, case=options.case)
    except NoSuchCaseError as error:
        return bad(f"--case {error}: there is no such case; leave --case out to see them all")
    here, also = options.file == "-", options.also or ()
    compared = doubted = None
    if "compare" in also:
        compared = compare(rig, folder=folder_of(options.file), watch=Watch(tell))
        if not compared.finished:
            return INTERRUPTED
    if "doubt" in also:
        doubted = doubt(rig)
    written = report(
        rig,
        form=form,
        raw=raw,
        name="standard input" if here else Path(options.file).name,
        folder=folder_of(options.file),
        case=options.case,
        shown_in=options.units,
        paper=options.paper,
        done=done,
        compared=compared,
        doubted=doubted,
    )
    code = PASSED if done.result.passed else FAILED
    if path is None:
        assert isinstance(written, str)  # a PDF without a file was refused above
        sys.stdout.write(written)
        return code
    try:
        path.write_bytes(written if isinstance(written, bytes) else written.encode())
    except OSError as error:
        return bad(f"-o {path}: {error.strerror or error}")
    print(f"Wrote {path}: {done.result.verdict.upper()}.", file=sys.stderr)
    return code
