"""Metals: strengths by wall, the partial factors, and what they allow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...materials import Detail, Metal, fatigue_details, metals
from ...rig import Fatigue, Limits
from .lines import MARKS, GPa, MPa, origin


def metal_rows_listed() -> list[list[str]]:
    """Return one row for each metal and range of wall, below a heading."""
    rows = [["metal", "wall mm", "E GPa", "proof", "tensile", "strengths"]]
    for m in metals():
        use = "" if m.design_use else "; typical, refused for sizing"
        rows.append(
            [
                m.name,
                walls(m),
                GPa(m.E_Pa),
                MPa(m.proof_Pa),
                MPa(m.ultimate_Pa),
                MARKS[m.strength_provenance] + use,
            ]
        )
    return rows


def details_listed() -> list[list[str]]:
    """Return one row for each fatigue detail, below a heading."""
    rows = [["detail", "MPa", "slope", "category", "what it is"]]
    for d in fatigue_details():
        rows.append([d.name, MPa(d.category_Pa), f"{d.slope:g}", MARKS[d.provenance], d.what])
    return rows


def detail_sheet(d: Detail) -> Iterator[str]:
    """Yield the sheet of a fatigue detail."""
    factor = Fatigue.factor
    yield f"fatigue detail of aluminium: {d.what}"
    yield (
        f"  range borne two million times {d.category_Pa / 1e6:g} MPa  / {factor:.2f} (factor) = "
        f"{d.category_Pa / factor / 1e6:.1f} MPa allowed"
    )
    yield f"  slope {d.slope:g}; {'the place of a weld' if d.welded else 'no weld'}"
    yield from origin(d.provenance, d.source, d.note)


def metal_sheet(rows: Sequence[Metal]) -> Iterator[str]:
    """Yield the sheet of a metal, wall by wall."""
    limits = Limits()
    for i, m in enumerate(rows):
        if i:
            yield ""
        yield f"wall {walls(m)} mm, {m.standard}"
        yield from _strengths(m, limits)
        expansion = (
            "not given" if m.thermal_expansion_per_K is None else f"{m.thermal_expansion_per_K * 1e6:g}e-6/K"
        )
        yield (
            f"  E {m.E_Pa / 1e9:g} GPa, G {m.G_Pa / 1e9:g} GPa, nu {m.nu:g}, density {m.density_kg_m3:g} kg/m3, "
            f"expansion {expansion} ({MARKS[m.elastic_provenance]})"
        )
        stretch = "not given" if m.elongation is None else f"{m.elongation * 100:g} %"
        class_ = "not given; B, the lower, is used" if m.buckling_class is None else m.buckling_class
        yield f"  least elongation {stretch}; buckling class {class_}"
        yield from origin(m.strength_provenance, m.source, "", what="strengths")
        yield from origin(m.elastic_provenance, m.elastic_source, m.note, what="elastic")
        if not m.design_use:
            yield "  For comparison only: typical values are refused for sizing."


def walls(m: Metal) -> str:
    """Return the range of wall of a row, in mm."""
    low = f"over {m.wall_over_m * 1e3:g}" if m.wall_over_m else ""
    high = f"to {m.wall_up_to_m * 1e3:g}" if m.wall_up_to_m is not None else ""
    return " ".join(part for part in (low, high) if part) or "any"


def _strengths(m: Metal, limits: Limits) -> Iterator[str]:
    """Yield strength, factor and what is allowed, beside each other."""
    rows = [
        ("proof (0.2 %)", m.proof_Pa, "yield_factor", limits.yield_factor),
        ("tensile", m.ultimate_Pa, "rupture_factor", limits.rupture_factor),
        ("proof beside a weld", m.haz_proof_Pa, "yield_factor", limits.yield_factor),
        ("tensile beside a weld", m.haz_ultimate_Pa, "rupture_factor", limits.rupture_factor),
    ]
    for label, value, factor, gamma in rows:
        if value is None:
            yield f"  {label:22} not known here"
            continue
        yield (
            f"  {label:22} {value / 1e6:5.4g} MPa  / {gamma:.2f} ({factor}) = {value / gamma / 1e6:5.1f} MPa allowed"
        )
