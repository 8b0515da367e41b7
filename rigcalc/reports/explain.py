"""What a word means: a check, a field of the rig file, or a term of the answer; in general or for one rig."""

from __future__ import annotations

import difflib
import importlib
import json
import pkgutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from .. import bearings, limits
from ..formulas import Formula, record_of
from ..formulas.meanings import meaning_of
from ..limits import Check
from ..limits.about import GROUPS, NUMBER, About
from ..rig import Rig
from ..rigfile.described import DescribedField, all_fields, field_key, given_in
from ..verdict import CAUTIONS, checked
from ..verdict.terms import TERMS
from .document import check_dict
from .terminal import amount, wrapped
from .worked import worked_from
from .worked.line import symbolic_lines

_NAME = 26
"""Columns of the names in a list."""


class UnknownWordError(LookupError):
    """A word that is no check, no field and no term; its message names the nearest."""


@dataclass(frozen=True)
class Explained:
    """All that a word means.

    Parameters
    ----------
    word : str
        As it was asked.
    abouts : tuple of About
        Checks of the name; one of a material each.
    fields : tuple of DescribedField
        Fields of the rig file.
    terms : mapping of str
        Terms of the answer, and names that a field of the file may be given.
    title : str
        Of the rig it is explained for; empty when in general.
    given : tuple of (str, str)
        What that rig has in the fields, with its path.
    here : tuple of Here
        What the checks come to in that rig, the most used first.
    """

    word: str
    abouts: tuple[About, ...] = ()
    fields: tuple[DescribedField, ...] = ()
    terms: Mapping[str, str] = field(default_factory=dict)
    title: str = ""
    given: tuple[tuple[str, str], ...] = ()
    here: tuple[Here, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether all that was looked at in a rig passes."""
        return all(check.passed for here in self.here for check in here.checks)


@dataclass(frozen=True)
class Here:
    """One check in one rig.

    Parameters
    ----------
    checks : tuple of Check
        Its cases, the most used first.
    lines : tuple of str
        The worked lines of the first.
    """

    checks: tuple[Check, ...]
    lines: tuple[str, ...]


@cache
def abouts() -> tuple[About, ...]:
    """Return the explanation of every check there is, in the order of the layers that make them."""
    found: list[About] = []
    for package in (limits, bearings):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            for value in vars(importlib.import_module(module.name)).values():
                own = value.values() if isinstance(value, dict) else (value,)
                found += [about for about in own if isinstance(about, About) and about not in found]
    return tuple(sorted(found, key=lambda about: GROUPS.index(about.of)))


def explain(word: str, rig: Rig | None = None) -> Explained:
    """Return what a word means, and what it comes to in a rig.

    Parameters
    ----------
    word : str
        Name of a check, path of a field, a term, or a name that a field may be given.
    rig : Rig, optional
        To be looked at.

    Raises
    ------
    UnknownWordError
        If it means nothing here.
    """
    found = _explained(word.strip())
    if rig is None:
        return found
    given = tuple(pair for one in found.fields for pair in given_in(rig, one.path))
    if not found.abouts:
        return replace(found, title=rig.title, given=given)
    done, here = checked(rig), []
    calculation, result = worked_from(rig, done), done.result
    for section in calculation.sections:
        if section.check is not None and any(_is_of(about, section.check) for about in found.abouts):
            own = [c for c in result.checks if c.id == section.check.id]
            ordered = tuple(sorted(own, key=lambda c: -c.utilisation))
            here.append(Here(ordered, tuple(line.text for line in section.lines)))
    kept = tuple(a for a in found.abouts if any(_is_of(a, c) for h in here for c in h.checks))
    return replace(found, abouts=kept or found.abouts, title=rig.title, given=given, here=tuple(here))


def about_of(check: Check) -> About | None:
    """Return what stands behind a check of a result."""
    return next((about for about in abouts() if _is_of(about, check)), None)


def _is_of(about: About, check: Check) -> bool:
    return about.covers(check.id) and check.formula in {record_of(f).name for f in about.formulas}


def _explained(word: str) -> Explained:
    plain = word.lower()
    own = tuple(a for a in abouts() if a.covers(plain) or plain in _loose_names(a))
    known = all_fields()
    key = field_key(word)
    terms = {plain: TERMS[plain]} if plain in TERMS else {}
    fields = (known[key],) if key else ()
    if not own and not terms and not fields:
        for entry in known.values():
            if word in entry.options and word not in terms:
                terms[word] = f"{entry.options[word]}. A choice of {entry.path}."
    if not own and not terms and not fields:
        # the last word of a path, where it is one of a few
        ends = tuple(f for path, f in known.items() if path.split(".")[-1].removesuffix("[]") == plain)
        fields = ends if len(ends) == 1 else ()
    if not own and not terms and not fields:
        raise UnknownWordError(_unknown(word, known))
    return Explained(word, own, fields, terms)


def _loose_names(about: About) -> set[str]:
    """Names that mean a check though they are not quite its own: without its number, criterion or bearing."""
    found = {name.removesuffix(NUMBER).lower() for name in about.names} | {n.lower() for n in about.names}
    found |= {name.partition(" ")[0] for name in about.names if name.startswith("ply ")}
    if len(about.names) > 1:
        found |= {_without_bearing(name) for name in about.names}
    return found


def _without_bearing(name: str) -> str:
    for bearing in ("partners", "step"):
        name = name.removeprefix(f"{bearing}-").removesuffix(f"-{bearing}")
    return name


def _unknown(word: str, known: Mapping[str, DescribedField]) -> str:
    ends = [path for path in known if path.split(".")[-1].removesuffix("[]") == word.lower()]
    if ends:
        return f"{word!r} stands in more than one place of a rig file: {_listed(ends)}. Name one of them"
    names = [name for about in abouts() for name in about.names]
    by_end: dict[str, str] = {}
    for path in known:
        by_end.setdefault(path.split(".")[-1].removesuffix("[]"), path)
    pool = [*names, *TERMS, *known, *(option for f in known.values() for option in f.options)]
    near = difflib.get_close_matches(word.lower(), pool, n=4, cutoff=0.6)
    near += [by_end[n] for n in difflib.get_close_matches(word.lower(), by_end, n=2, cutoff=0.75)]
    near = list(dict.fromkeys(near))[:4]
    said = f"{word!r} is no check, no field of the rig file and no word of the answer"
    if near:
        return f"{said}. Did you mean {_listed(near)}?"
    return f"{said}. `rigcalc explain` lists all checks, `rigcalc schema` the fields."


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


# ---------------------------------------------------------------- the list of all


def explain_list_screen() -> str:
    """Return every check in a line, by what it is a check of, and the words of the answer."""
    parts = ["Checks. `rigcalc explain CHECK` tells more; with FILE after it, with the numbers of that rig."]
    for group in GROUPS:
        lines = [f"{group[0].upper()}{group[1:]}"]
        for about in abouts():
            if about.of == group:
                lines += _entry(_title(about), about.line)
        parts.append("\n".join(lines))
    words = "\n".join(["Words of the answer", *wrapped(", ".join(TERMS), "  ")])
    fields = (
        "Fields of the rig file: by their path, such as mast.bury or mast.stations[].wall, or by table, "
        "such as limits."
    )
    return "\n\n".join([*parts, words, "\n".join(wrapped(fields, ""))]) + "\n"


def explain_list_json() -> str:
    """Return the same for another program."""
    checks = [{"names": list(a.names), "of": a.of, "line": a.line} for a in abouts()]
    return _json({"checks": checks, "terms": dict(TERMS), "fields": list(all_fields())})


def _title(about: About) -> str:
    return ", ".join(about.names)


def _entry(name: str, text: str) -> list[str]:
    start = f"  {name:<{_NAME}}"
    if len(name) < _NAME:
        return wrapped(text, " " * (_NAME + 2), first=start)
    return [*wrapped(name, "    ", first="  "), *wrapped(text, " " * (_NAME + 2))]


# ---------------------------------------------------------------- text


def explain_screen(found: Explained) -> str:
    """Return what a word means as text.

    Parameters
    ----------
    found : Explained
        As `explain` gives it.
    """
    parts = ["\n".join(_term(word, text)) for word, text in found.terms.items()]
    parts += ["\n".join(_about(about)) for about in found.abouts]
    parts += ["\n".join(_field(one)) for one in found.fields]
    if found.title and found.fields:
        said = "; ".join(f"{path} = {text}" for path, text in found.given) or "nothing that is read"
        parts.append("\n".join(wrapped(f"In {found.title!r}: {said}.", "  ", first="")))
    if found.title and found.abouts:
        parts += ["\n".join(_here(here, found.title)) for here in found.here]
        if not found.here:
            said = (
                f"{found.title!r} has no such check: nothing in it could fail in this way, or the file "
                "does not describe it."
            )
            parts.append("\n".join(wrapped(said, "")))
        parts.append("\n".join(wrapped(CAUTIONS[0], "")))
    return "\n\n".join(parts) + "\n"


def _term(word: str, text: str) -> Iterator[str]:
    yield word
    yield from wrapped(text, "  ")


def _about(about: About) -> Iterator[str]:
    yield f"{_title(about)} ({about.of})"
    yield from wrapped(about.means, "  ")
    yield "  Formula"
    for formula in about.formulas:
        yield from _formula(record_of(formula))
    if about.demand:
        yield "  What goes into it"
        for formula in about.demand:
            yield from _formula(record_of(formula))
    yield from wrapped(f"Leaves out: {about.leaves_out}", "    ", first="  ")
    yield "  When it fails"
    for cure in about.cures:
        yield from wrapped(f"{cure.general}. Costs: {cure.costs}.", "      ", first="    - ")


def _formula(formula: Formula) -> Iterator[str]:
    for line in symbolic_lines(formula):
        yield from wrapped(line, "        ", first="    ")
    said = f"{formula.summary} {formula.name}: {formula.source}."
    yield from wrapped(f"{said}{''.join(f' {limit}' for limit in _ranges(formula))}", "      ")
    symbols = "; ".join(_symbol(formula, name) for name in formula.arguments)
    yield from wrapped(f"{symbols}.", "      ")


def _ranges(formula: Formula) -> Iterator[str]:
    for limit in formula.ranges:
        refused = "no value outside" if limit.outside == "refuse" else "a warning outside"
        yield f"Holds for {limit}{f' ({limit.why})' if limit.why else ''}; {refused}."


def _symbol(formula: Formula, name: str) -> str:
    unit = formula.arguments[name]
    meaning = meaning_of(formula, name)
    return f"{name}: {meaning}" + ("" if unit == "1" else f", in {unit}")


def _field(of: DescribedField) -> Iterator[str]:
    yield f"{of.path} (a field of the rig file)"
    yield from wrapped(of.help, "  ")
    yield from wrapped(f"Write: {of.form}{f' ({_listed(list(of.units))})' if of.units else ''}.", "  ")
    if of.bounds:
        yield from wrapped(f"Bounds: {'; '.join(of.bounds)}.", "  ")
    for name, means in of.options.items():
        yield from wrapped(f'"{name}": {means}', "      ", first="  - ")
    for read in of.read:
        yield from wrapped(f"It is {read}.", "  ")
    if of.required:
        yield "  The file must give it."
    elif of.default:
        source = f" ({of.default_from})" if of.default_from else ""
        yield from wrapped(f"Default: {of.default}{source}.", "  ")
    if of.keys:
        known = all_fields()
        for key in of.keys:
            path = key if key in known else f"{key}[]"
            yield from _entry(path.rpartition(".")[2], known[path].help)


def _here(here: Here, title: str) -> Iterator[str]:
    worst = here.checks[0]
    yield from wrapped(f"{worst.id} in {title!r}: {'passes' if worst.passed else 'FAILS'}", "")
    for check in here.checks:
        if check.layer == worst.layer or not check.passed:
            yield from wrapped(_said(check), "      ", first="  ")
    if here.lines:
        yield "  Worked where it governs"
        for line in here.lines:
            for row in line.split("; "):
                yield from wrapped(row, "        ", first="    ")
    for advice in dict.fromkeys(check.advice for check in here.checks if check.advice):
        yield from wrapped(f"Cure: {advice}.", "      ", first="  ")


def _said(check: Check) -> str:
    layer = f" of the {check.layer}" if check.layer else ""
    place = f"at z = {check.height_m:.2f} m{layer} in '{check.case}'"
    if check.utilisation == float("inf"):
        return f"{place}: no answer, which never passes"
    demand, capacity = (amount(value, check.unit, "both") for value in (check.demand, check.capacity))
    return f"{place}: {demand} of {capacity}, used {check.utilisation:.2f}"


# ---------------------------------------------------------------- JSON


def explain_json(found: Explained) -> str:
    """Return what a word means for another program.

    Parameters
    ----------
    found : Explained
        As `explain` gives it.
    """
    document: dict[str, Any] = {
        "word": found.word,
        "checks": [_about_dict(about) for about in found.abouts],
        "terms": dict(found.terms),
        "fields": [
            {**vars(f), "units": list(f.units), "bounds": list(f.bounds), "options": dict(f.options)}
            | {"read": list(f.read), "keys": list(f.keys)}
            for f in found.fields
        ],
    }
    if found.title:
        document["title"] = found.title
        document["given"] = dict(found.given)
        document["here"] = [
            {"checks": [check_dict(check) for check in here.checks], "worked": list(here.lines)}
            for here in found.here
        ]
        document["cautions"] = list(CAUTIONS)
    return _json(document)


def _about_dict(about: About) -> dict[str, Any]:
    return {
        "names": list(about.names),
        "of": about.of,
        "means": about.means,
        "formulas": [_formula_dict(record_of(f)) for f in about.formulas],
        "goes_into_it": [_formula_dict(record_of(f)) for f in about.demand],
        "leaves_out": about.leaves_out,
        "cures": [{"change": cure.general, "costs": cure.costs} for cure in about.cures],
    }


def _formula_dict(formula: Formula) -> dict[str, Any]:
    return {
        "name": formula.name,
        "lines": list(symbolic_lines(formula)),
        "summary": formula.summary,
        "unit": formula.unit,
        "symbols": [
            {"symbol": name, "unit": unit, "means": meaning_of(formula, name)}
            for name, unit in formula.arguments.items()
        ],
        "source": formula.source,
        "ranges": list(_ranges(formula)),
    }


def _json(document: dict[str, Any]) -> str:
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
