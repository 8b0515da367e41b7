"""Laminates for the terminal and as JSON: stiffness, plies, what they stand, thickness and mass."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from ..materials.laminates import (
    CRITERIA,
    MODES,
    Criterion,
    Factor,
    Laid,
    LaidPlies,
    LayUp,
    WallConstants,
    doubts,
    failure,
    lay_ups_of,
    membrane_state,
    off_axis,
    unit_strains,
    wall_constants,
)
from ..rig import Rig
from .terminal import bullets, table, wrapped

_MICRO = 1e-6
_TERMS = ("11", "12", "22", "16", "26", "66")
_MARKS = {"read": "read", "memory": "from memory", "computed": "computed"}
_WAYS = ("pulled along", "pressed along", "sheared")


class NoSuchLaminateError(Exception):
    """There is no laminate to tell of, and why."""


def laminate_sheet(rig: Rig, *, name: str | None = None, height_m: float | None = None) -> dict[str, Any]:
    """Return everything about the laminates of a rig as plain dicts, lists, strings and finite numbers.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    name : str, optional
        The only laminate to tell of.
    height_m : float, optional
        The only height to tell of.

    Raises
    ------
    NoSuchLaminateError
        If there is none of that name, or the mast is not as high.
    """
    laid = lay_ups_of(rig)
    if not laid:
        raise NoSuchLaminateError("there is no [[laminate]] in the file")
    if name is not None and name not in laid:
        raise NoSuchLaminateError(f"there is no laminate {name!r}; there are {', '.join(laid)}")
    length = rig.mast.length_m
    if height_m is not None and not 0.0 <= height_m <= length:
        raise NoSuchLaminateError(f"the mast stands from 0 to {length:g} m")
    return {
        "title": rig.title,
        "laminates": [
            _laminate(lay_up, length, height_m) for lay_up in laid.values() if name in (None, lay_up.name)
        ],
    }


def laminate_json(sheet: dict[str, Any]) -> str:
    """Return a sheet as JSON text."""
    return json.dumps(sheet, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


# ---------------------------------------------------------------- figures


def _laminate(lay_up: LayUp, length_m: float, height_m: float | None) -> dict[str, Any]:
    bare = lay_up.bare_m(0.0, length_m)
    stretches = [ends for ends in lay_up.stretches_m(0.0, length_m) if ends not in bare]
    warnings = dict.fromkeys(text for ends in stretches for text in doubts(lay_up, *ends))
    if height_m is not None:
        # at a height where plies end stands what is above it, and at the tip what is below
        stretches = [s for s in stretches if s[0] <= height_m < s[1] or height_m == s[1] == length_m]
    return {
        "name": lay_up.name,
        "safety_factor": lay_up.safety_factor,
        "knockdowns": [_factor(what, factor) for what, factor in _named(lay_up)],
        "criteria": [{"name": c, "meaning": CRITERIA[c]} for c in lay_up.criteria],
        "stretches": [_stretch(lay_up, *ends) for ends in stretches],
        "warnings": list(warnings),
    }


def _named(lay_up: LayUp) -> tuple[tuple[str, Factor], ...]:
    k = lay_up.knockdown
    return ("water", k.wet), ("lasting", k.creep), ("cycles", k.fatigue)


def _factor(what: str, factor: Factor) -> dict[str, Any]:
    return {
        "name": what,
        "left": factor.value,
        "strengths": [strength.removesuffix("_Pa") for strength in factor.strengths],
        "provenance": factor.provenance,
        "source": factor.source,
    }


def _stretch(lay_up: LayUp, low_m: float, high_m: float) -> dict[str, Any]:
    laid = lay_up.at([(low_m + high_m) / 2])
    walls, lots = laid.walls, [lay_up.lots[i] for i in laid.standing(0)]
    stack = walls.stack
    wall, fibre = float(walls.wall_m[0]), float(stack.fibre_mass_kg_m2[0])
    volume = sum(lot.ply.fibre_fraction * lot.together.thickness_m for lot in lots)
    return {
        "from_m": low_m,
        "to_m": high_m,
        "wall_m": wall,
        "mass_kg_m2": float(stack.mass_kg_m2[0]),
        "fibre_mass_kg_m2": fibre,
        "resin_mass_kg_m2": float(stack.resin_mass_kg_m2[0]),
        "density_kg_m3": float(stack.mass_kg_m2[0]) / wall,
        "fibre_fraction": volume / wall,
        "off_axis_share": off_axis(lay_up, (low_m + high_m) / 2),
        "plies": [_plies(lot) for lot in lots],
        "membrane": _constants(laid.constants),
        "free": _constants(wall_constants(walls, edges="free")),
        "A_N_m": walls.A_N_m[0].tolist(),
        "B_N": walls.B_N[0].tolist(),
        "D_N_m": walls.D_N_m[0].tolist(),
        "per_1000_microstrain": _strains(laid, lots),
        "first_ply": [_first(laid, lots, criterion) for criterion in lay_up.criteria],
    }


def _plies(lot: LaidPlies) -> dict[str, Any]:
    ply = lot.ply
    return {
        "material": ply.name,
        "count": lot.count,
        "angle_deg": math.degrees(lot.angle_rad),
        "thickness_m": ply.thickness_m,
        "fibre_mass_kg_m2": ply.fibre_mass_kg_m2,
        "fibre_fraction": ply.fibre_fraction,
        "E1_Pa": ply.E1_Pa,
        "E2_Pa": ply.E2_Pa,
        "G12_Pa": ply.G12_Pa,
        "nu12": ply.nu12,
        **{name: getattr(ply, name) for name in ("Xt_Pa", "Xc_Pa", "Yt_Pa", "Yc_Pa", "S12_Pa")},
        "strengths_from": None if lot.strengths_from is None else lot.strengths_from.name,
        "provenance": ply.provenance,
        "source": ply.source,
        "note": ply.note,
    }


def _constants(of: WallConstants) -> dict[str, float]:
    return {
        name: float(getattr(of, name)[0]) for name in ("Ex_Pa", "Ey_Pa", "Gxy_Pa", "nuxy", "nuyx", "eta_x")
    }


def _strains(laid: Laid, lots: list[LaidPlies]) -> list[dict[str, Any]]:
    """Strains of every ply in its own axes, in microstrain, with the wall strained by 1000 along the mast."""
    pulled, _ = unit_strains(laid.walls)
    own = membrane_state(laid.weakened(0).stack, 1000.0 * pulled[0]).strain[..., 0, :]
    return [
        {
            "ply": lot.label,
            "along_fibres": float(along),
            "across_fibres": float(across),
            "shear": float(shear),
        }
        for lot, (along, across, shear) in zip(lots, own, strict=True)
    ]


def _first(laid: Laid, lots: list[LaidPlies], criterion: Criterion) -> dict[str, Any]:
    """Strain of the wall at which its first ply fails, knocked down and with the safety factor on top."""
    stack = laid.weakened(0).stack
    pulled, sheared = (strain[0] for strain in unit_strains(laid.walls))
    found: dict[str, Any] = {"criterion": criterion}
    for way, strain in zip(_WAYS, (pulled, -pulled, sheared), strict=True):
        said = failure(stack, membrane_state(stack, _MICRO * strain), criterion)
        use = said.use[..., 0]
        worst = int(np.argmax(use))
        found[way.replace(" ", "_")] = {
            "fails_at_microstrain": float(1.0 / use[worst]),
            "allowed_microstrain": float(1.0 / use[worst] / laid.lay_up.safety_factor),
            "ply": lots[worst].label,
            "angle_deg": math.degrees(lots[worst].angle_rad),
            "mode": MODES[int(said.mode_number[worst, 0])],
        }
    return found


# ---------------------------------------------------------------- text


def laminate_screen(sheet: dict[str, Any]) -> str:
    """Return a sheet as text."""
    lines = [sheet["title"], ""]
    for laminate in sheet["laminates"]:
        lines += _laminate_lines(laminate)
    lines += wrapped(
        "A closed tube keeps its wall from curling: the membrane values are those it bends and twists with. Free are "
        "those of a loose strip cut out of it, which curls where the wall is not symmetric: what a test piece shows.",
        "",
    )
    return "\n".join(lines) + "\n"


def _laminate_lines(laminate: dict[str, Any]) -> Iterator[str]:
    yield f"Laminate {laminate['name']!r}"
    yield ""
    for factor in laminate["knockdowns"]:
        left = (
            f"{factor['left']:.3g} left of {', '.join(factor['strengths'])} ({_MARKS[factor['provenance']]}; "
        )
        said = f"{left}{factor['source']})" if factor["left"] < 1.0 else "nothing taken off"
        yield from wrapped(f"{factor['name']}: {said}", "    ", first="  ")
    yield f"  safety factor on the first ply: {laminate['safety_factor']:g}"
    yield ""
    for stretch in laminate["stretches"]:
        yield from _stretch_lines(stretch)
    yield from _sources(laminate)
    yield from bullets("Warnings", laminate["warnings"])
    yield ""


def _stretch_lines(s: dict[str, Any]) -> Iterator[str]:
    yield f"z = {s['from_m']:.2f} to {s['to_m']:.2f} m"
    off = "not known" if s["off_axis_share"] is None else f"{s['off_axis_share']:.0%}"
    yield from wrapped(
        f"wall {s['wall_m'] * 1e3:.2f} mm; {s['mass_kg_m2']:.3f} kg/m2, of it {s['fibre_mass_kg_m2']:.3f} dry fibre "
        f"and {s['resin_mass_kg_m2']:.3f} resin; {s['density_kg_m3']:.0f} kg/m3, fibre {s['fibre_fraction']:.0%} by "
        f"volume; off the axis {off}",
        "  ",
    )
    yield ""
    rows = [["", "E along GPa", "E round GPa", "G GPa", "nu xy", "nu yx", ""]]
    for edges in ("membrane", "free"):
        c = s[edges]
        rows.append(
            [
                edges,
                f"{c['Ex_Pa'] / 1e9:.2f}",
                f"{c['Ey_Pa'] / 1e9:.2f}",
                f"{c['Gxy_Pa'] / 1e9:.2f}",
                f"{c['nuxy']:.3f}",
                f"{c['nuyx']:.3f}",
                "",
            ]
        )
    yield from _indented(table(rows))
    yield ""
    rows = [["", *_TERMS, ""]]
    for letter, unit, key, scale in (
        ("A", "kN/mm", "A_N_m", 1e6),
        ("B", "kN", "B_N", 1e3),
        ("D", "N m", "D_N_m", 1.0),
    ):
        values = [s[key][_place(term[0])][_place(term[1])] for term in _TERMS]
        rows.append([letter, *(f"{_whole(value / scale):.4g}" for value in values), unit])
    yield from _indented(table(rows))
    yield ""
    rows = [["strains for 1000 microstrain along", "along fibres", "across", "shear", ""]]
    rows += [
        [p["ply"], *(f"{_whole(p[key]):.0f}" for key in ("along_fibres", "across_fibres", "shear")), ""]
        for p in s["per_1000_microstrain"]
    ]
    yield from _indented(table(rows))
    yield ""
    rows = [["first ply fails, microstrain", *_WAYS, "pressed, first"]]
    rows += [
        [
            f["criterion"],
            *(f"{f[way.replace(' ', '_')]['fails_at_microstrain']:.0f}" for way in _WAYS),
            f"{f['pressed_along']['angle_deg']:g} deg, {f['pressed_along']['mode']}",
        ]
        for f in s["first_ply"]
    ]
    rows.append(
        [
            "least, over the safety factor",
            *(
                f"{min(f[way.replace(' ', '_')]['allowed_microstrain'] for f in s['first_ply']):.0f}"
                for way in _WAYS
            ),
            "",
        ]
    )
    yield from _indented(table(rows))
    yield ""


def _place(digit: str) -> int:
    """Return the row or column of a digit: shear is the sixth by custom and the third here."""
    return 2 if digit == "6" else int(digit) - 1


def _whole(value: float) -> float:
    """Take the sign off a nothing left by rounding."""
    return 0.0 if abs(value) < 1e-9 else value


def _sources(laminate: dict[str, Any]) -> Iterator[str]:
    plies = {p["material"]: p for s in laminate["stretches"] for p in s["plies"]}
    told = []
    for name, p in plies.items():
        taken = "" if p["strengths_from"] is None else f"; strengths of {p['strengths_from']}"
        note = f"; {p['note']}" if p["note"] and not taken else ""
        told.append(
            f"{name}: E1 {p['E1_Pa'] / 1e9:.3g}, E2 {p['E2_Pa'] / 1e9:.3g}, G12 {p['G12_Pa'] / 1e9:.3g} GPa, nu12 "
            f"{p['nu12']:.3g} ({_MARKS[p['provenance']]}; {p['source']}{taken}{note})"
        )
    yield from bullets("Plies", told)


def _indented(text: str) -> list[str]:
    return [f"  {line}" for line in text.splitlines()]
