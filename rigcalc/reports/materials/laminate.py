"""Plies with what is taken off their strength, and the fibres and resins they are made of."""

from __future__ import annotations

from collections.abc import Iterator

from ...materials.laminates import (
    CREEP,
    METHODS,
    Fibre,
    Knockdown,
    PlyMaterial,
    Resin,
    fatigue_factor,
    fibres,
    ply_materials,
    resin_strain_limit,
    resins,
    ultimate_strain,
    water_of,
)
from ...materials.laminates.lay import WATER
from ...materials.laminates.tables import FORMS
from ...rig import Laminate, Plies
from ...rig.fields import described_fields, spec_of
from ..terminal import wrapped
from .lines import MARKS, GPa, MPa, Sources, indented, origin, percent

_FORMS = {
    "ud": "all fibres along axis 1",
    "woven": "half the fibres along axis 1, half across",
    "biaxial-45": "half the fibres at 45 deg to axis 1, half at -45 deg",
    "mat": "fibres every way alike",
    "triaxial": "fibres in three directions, shares not known",
}
_STRENGTHS = (
    ("pulled along 1, Xt", "Xt_Pa", "strain_1t"),
    ("pressed along 1, Xc", "Xc_Pa", "strain_1c"),
    ("pulled across, Yt", "Yt_Pa", "strain_2t"),
    ("pressed across, Yc", "Yc_Pa", "strain_2c"),
    ("sheared, S12", "S12_Pa", "strain_12"),
)
_SAFETY, _BETWEEN = (
    spec_of(described_fields(Laminate)[key]).default_from for key in ("safety_factor", "interlaminar")
)


def plies_listed() -> list[list[str]]:
    """Return one row for each ply, below a heading."""
    rows = [["ply", "fibre %", "E1 GPa", "E2", "G12", "Xt MPa", "Xc", "S12", "values"]]
    rows += [
        [
            p.name,
            percent(p.fibre_fraction),
            GPa(p.E1_Pa),
            GPa(p.E2_Pa),
            GPa(p.G12_Pa),
            MPa(p.Xt_Pa),
            MPa(p.Xc_Pa),
            MPa(p.S12_Pa),
            MARKS[p.provenance],
        ]
        for p in ply_materials()
    ]
    return rows


def fibres_listed() -> list[list[str]]:
    """Return one row for each fibre, below a heading."""
    rows = [["fibre", "kg/m3", "E1 GPa", "E2", "G12", "tension MPa", "values"]]
    rows += [
        [
            f.name,
            f"{f.density_kg_m3:g}",
            GPa(f.E1_Pa),
            GPa(f.E2_Pa),
            GPa(f.G12_Pa),
            MPa(f.tension_in_ply_Pa),
            MARKS[f.provenance],
        ]
        for f in fibres()
    ]
    return rows


def resins_listed() -> list[list[str]]:
    """Return one row for each resin, below a heading."""
    rows = [["resin", "kg/m3", "E GPa", "G", "tension MPa", "strain %", "values"]]
    rows += [
        [
            r.name,
            f"{r.density_kg_m3:g}",
            GPa(r.E_Pa),
            GPa(r.G_Pa),
            MPa(r.tension_Pa),
            percent(r.ultimate_strain),
            MARKS[r.provenance],
        ]
        for r in resins()
    ]
    return rows


def ply_sheet(ply: PlyMaterial) -> Iterator[str]:
    """Yield the sheet of a ply of the tables, or of the user's own."""
    form = next(name for name, lots in FORMS.items() if lots == ply.fibres)
    yield f"ply: {_FORMS[form]}, {ply.fibre_fraction * 100:.4g} % of its volume fibre"
    yield from indented(
        [
            ["E1, along axis 1", GPa(ply.E1_Pa), "GPa"],
            ["E2, across it", GPa(ply.E2_Pa), "GPa"],
            ["G12, in shear", GPa(ply.G12_Pa), "GPa"],
            ["nu12", f"{ply.nu12:g}", ""],
            ["density", f"{ply.density_kg_m3:g}", "kg/m3"],
            ["density of the fibre", f"{ply.fibre_density_kg_m3:g}", "kg/m3"],
        ]
    )
    yield from origin(ply.provenance, ply.source, ply.note)
    yield ""
    yield from _allowed(ply)


def _allowed(ply: PlyMaterial) -> Iterator[str]:
    """Yield strengths, what the defaults of a laminate take off them, and what is left."""
    laminate = Laminate(name=ply.name, plies=(Plies(material=ply.name, angle_rad=0.0),))
    water = water_of(laminate)
    wet, fatigue = WATER[water], fatigue_factor(laminate.fatigue, laminate.cycles)
    passing, standing = Knockdown(wet=wet, fatigue=fatigue), Knockdown(wet=wet, creep=CREEP)
    yield "Typical strengths, and what is left of them by the defaults of [[laminate]]"
    rows = [["", "strength", "strain at failure", "passing load", "standing load", ""]]
    for called, strength, strain in _STRENGTHS:
        value, ultimate = getattr(ply, strength), ultimate_strain(ply, strain)
        follows = "" if getattr(ply, strain) is not None or ultimate is None else " (derived)"
        left = ["-", "-"]
        if value is not None:
            left = [
                f"{value * k.on(strength) / laminate.safety_factor / 1e6:.4g}" for k in (passing, standing)
            ]
        rows.append(
            [
                called,
                MPa(value),
                f"{percent(ultimate)}{'' if ultimate is None else ' %'}{follows}",
                *left,
                "MPa",
            ]
        )
    between = [
        f"{laminate.interlaminar_Pa * k.on('S12_Pa') / laminate.safety_factor / 1e6:.4g}"
        for k in (passing, standing)
    ]
    rows.append(["between plies, where not stated", MPa(laminate.interlaminar_Pa), "-", *between, "MPa"])
    yield from indented(rows)
    sources = Sources()
    yield "  of strength is left"
    for share, what, f in (
        (wet.value, f"water ({water}), of all but tension along axis 1", wet),
        (
            fatigue.value,
            f"repetition, {laminate.cycles:g} times ({laminate.fatigue}), of a passing load",
            fatigue,
        ),
        (CREEP.value, "time, of a standing load", CREEP),
    ):
        yield f"    x {share:.3f}  {what} {sources.cite(f.provenance, f.source)}"
    yield f"    / {laminate.safety_factor:.3f}  safety_factor of the laminate [{sources.number(_SAFETY)}]"
    yield f"  strength between plies: interlaminar of the laminate [{sources.number(_BETWEEN)}]"
    yield from wrapped(
        "Nothing is taken off for scatter: the strengths are typical ones, not minima. A criterion judges them "
        "together, ply by ply.",
        "  ",
    )
    yield from sources.lines()


def fibre_sheet(f: Fibre) -> Iterator[str]:
    """Yield the sheet of a fibre."""
    yield "fibre, before it is in a ply"
    yield from indented(
        [
            ["E along", GPa(f.E1_Pa), "GPa"],
            ["E across", GPa(f.E2_Pa), "GPa"],
            ["G", GPa(f.G12_Pa), "GPa"],
            ["nu", f"{f.nu12:g}", ""],
            ["density", f"{f.density_kg_m3:g}", "kg/m3"],
            ["tension in a ply", MPa(f.tension_in_ply_Pa), "MPa"],
            ["compression in a ply", MPa(f.compression_in_ply_Pa), "MPa"],
        ]
    )
    yield from origin(f.provenance, f.source, f.note)
    yield from wrapped(_MADE_INTO, "  ")


def resin_sheet(r: Resin) -> Iterator[str]:
    """Yield the sheet of a resin."""
    yield "resin, cast, alike all ways"
    yield from indented(
        [
            ["E", GPa(r.E_Pa), "GPa"],
            ["G", GPa(r.G_Pa), "GPa"],
            ["nu", f"{r.nu:g}", ""],
            ["density", f"{r.density_kg_m3:g}", "kg/m3"],
            ["tension", MPa(r.tension_Pa), "MPa"],
            ["compression", MPa(r.compression_Pa), "MPa"],
            ["shear", MPa(r.shear_Pa), "MPa"],
            ["strain at which it breaks", percent(r.ultimate_strain), "%"],
        ]
    )
    yield from origin(r.provenance, r.source, r.note)
    if r.ultimate_strain is not None:
        yield from wrapped(
            f"a laminate of it may be strained by {percent(resin_strain_limit(r))} %: 0.2 %, or a tenth of the resin's "
            "own (BS 4994:1987, read on a worked design sheet that cites it)",
            "    ",
            first="  ",
        )
    yield from wrapped(_MADE_INTO, "  ")


_MADE_INTO = (
    "No strength of a mast is worked out from it alone: plies in a [[laminate]] are made of a fibre and a resin, their "
    f"stiffness by {', '.join(METHODS)}, and their strengths are those of a tested ply."
)
