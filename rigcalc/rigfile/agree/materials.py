"""Rules for the user's own materials: values that do not go together, or belong to no such material.

The bounds are wide: beyond them a slip is likelier than the material. Every row of the tables lies within
those of its family, which the tests hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from ...errors import Problem
from ...frozen import dataclass
from ...materials import MaterialError, known_family, own_ply
from ...materials.laminates import FindPly, PlyMaterial, find_ply_material
from ...materials.names import kinds_of
from ...rig import Material
from ...rig.fields import described_fields, is_needed
from ...rig.materials import CHARACTERISTIC, CLEAR_WOOD, FOAM, METAL, PLY, TIMBER
from ..loose import Loose
from .say import unique

BANDS: Final[dict[str, dict[str, tuple[float, float]]]] = {
    METAL: {"density_kg_m3": (1000, 12_000), "E_Pa": (1e9, 5e11), "G_Pa": (1e8, 2e11)},
    TIMBER: {
        "density_kg_m3": (100, 1300),
        "E_Pa": (1.5e9, 4e10),
        "G_Pa": (5e7, 5e9),
        "compression_Pa": (3e6, 2e8),
        "shear_Pa": (5e5, 5e7),
    },
    PLY: {"density_kg_m3": (800, 3500)},
    FOAM: {
        "density_kg_m3": (10, 800),
        "E_Pa": (5e6, 2e9),
        "G_Pa": (1e6, 8e8),
        "compression_Pa": (2e4, 6e7),
        "shear_Pa": (2e4, 3e7),
    },
}
"""Bands narrower than those of the fields, which several families share."""


@dataclass(frozen=True)
class Ratio:
    """Bounds of one value over another."""

    of: str
    to: str
    low: float
    high: float


RATIOS: Final[dict[str, tuple[Ratio, ...]]] = {
    CLEAR_WOOD: (
        Ratio("E_Pa", "bending_Pa", 50, 400),
        Ratio("compression_Pa", "bending_Pa", 0.25, 1.0),
        Ratio("compression_perp_Pa", "compression_Pa", 0.02, 0.6),
        Ratio("shear_Pa", "bending_Pa", 0.03, 0.35),
        Ratio("tension_perp_Pa", "shear_Pa", 0.03, 1.0),
        Ratio("E_green_Pa", "E_Pa", 0.5, 1.0),
        Ratio("bending_green_Pa", "bending_Pa", 0.3, 1.0),
        Ratio("compression_green_Pa", "compression_Pa", 0.3, 1.0),
        Ratio("compression_perp_green_Pa", "compression_perp_Pa", 0.3, 1.0),
        Ratio("shear_green_Pa", "shear_Pa", 0.3, 1.0),
        # the one strength that some species lose in drying
        Ratio("tension_perp_green_Pa", "tension_perp_Pa", 0.3, 1.5),
    ),
    CHARACTERISTIC: (
        Ratio("E_Pa", "bending_Pa", 150, 1200),
        Ratio("E_low_Pa", "E_Pa", 0.5, 1.0),
        Ratio("tension_Pa", "bending_Pa", 0.3, 1.2),
        Ratio("compression_Pa", "bending_Pa", 0.3, 1.5),
        Ratio("compression_perp_Pa", "compression_Pa", 0.03, 0.6),
        Ratio("shear_Pa", "bending_Pa", 0.03, 0.5),
        Ratio("tension_perp_Pa", "shear_Pa", 0.03, 1.0),
    ),
    TIMBER: (Ratio("G_Pa", "E_Pa", 1 / 30, 1 / 7),),
    PLY: (
        Ratio("Xc_Pa", "Xt_Pa", 0.1, 3.0),
        Ratio("Yc_Pa", "Yt_Pa", 0.5, 20.0),
    ),
    "ud": (
        Ratio("E2_Pa", "E1_Pa", 0.01, 1.0),
        Ratio("G12_Pa", "E1_Pa", 0.005, 0.5),
        Ratio("Yt_Pa", "Xt_Pa", 0.002, 0.5),
        Ratio("S12_Pa", "Xt_Pa", 0.005, 0.7),
    ),
    "mat": (Ratio("E2_Pa", "E1_Pa", 0.9, 1.1),),
    FOAM: (
        Ratio("G_Pa", "E_Pa", 0.1, 1.0),
        Ratio("compression_Pa", "E_Pa", 0.001, 0.2),
        Ratio("shear_Pa", "compression_Pa", 0.2, 3.0),
    ),
}
"""By family, basis or form of ply."""

STRAINS: Final = (
    ("strain_1t", "Xt_Pa", "E1_Pa", 0.5),
    ("strain_1c", "Xc_Pa", "E1_Pa", 0.5),
    ("strain_2t", "Yt_Pa", "E2_Pa", 0.4),
    ("strain_2c", "Yc_Pa", "E2_Pa", 0.2),
    # resin yields in shear long before it breaks
    ("strain_12", "S12_Pa", "G12_Pa", 0.1),
)
"""Ultimate strain, strength, modulus, and the least share of strain times modulus that the strength is."""
MOST_OF_STRAIN: Final = 1.6
"""The greatest such share: no ply stiffens by more as it is loaded."""
STRAIN_AT_BREAK: Final = (0.0005, 0.2)
"""Strength over modulus, where the ultimate strain is not given."""
RESIN_KG_M3: Final = (800.0, 1600.0)
"""Density of what is not fibre; voids lower it."""

_KINDS: Final = {(TIMBER, "basis"), (PLY, "form")}
"""Fields that part a family further."""
_CALLED: Final = {
    CLEAR_WOOD: "clear wood",
    CHARACTERISTIC: "graded timber",
    "ud": "a ply with all fibres one way",
}
LAMINATE: Final = "laminate"
UNREAD: Final = ""
"""Family of a material of the user's own whose family could not be read."""


def families(materials: Sequence[Loose]) -> dict[str, str]:
    """Return name -> family of the user's own materials."""
    return {m.name: m.get("family", UNREAD) for m in materials if m.has("name")}


def names_of(tables: Sequence[Loose]) -> list[str]:
    """Return the names of tables, as far as they could be read."""
    return [table.name for table in tables if table.has("name")]


def family(name: str, materials: Sequence[Loose], laminates: Sequence[str] = ()) -> str | None:
    """Return the family of what a name stands for in a file; None where there is no such material."""
    return known_family(name, own=families(materials), laminates=laminates)


def is_timber(name: str, materials: Sequence[Loose]) -> bool:
    """Whether a name stands for a timber."""
    return family(name, materials) == TIMBER


def no_tube(path: str, name: str, made: str) -> Problem:
    """Return what to say of a material that makes no tube."""
    what, remedy = _NO_TUBE[made]
    return Problem(path, f'"{name}"', f"it is {what}", remedy)


_NO_TUBE: Final = {
    TIMBER: ("a timber, and a post in a laminate is of metal", "Name a metal."),
    PLY: ("a ply, which makes no mast by itself", "Lay up a [[laminate]] of it, and name that."),
    FOAM: ("a foam, which makes no mast", "Name a metal or a timber; foam fills a bore."),
    LAMINATE: (
        "a laminate, and a sleeve or a post is of metal or timber",
        "Name a metal, or add a [[mast.sheath]].",
    ),
}


def plies_of(materials: Sequence[Loose]) -> FindPly:
    """Return what finds a ply by name, the user's own before those of the tables."""
    found = {m.name: _ply_of(m) for m in materials if m.has("name") and m.get("family", PLY) == PLY}

    def find_ply(name: str) -> PlyMaterial:
        if name not in found:
            return find_ply_material(name, found)
        ply = found[name]
        if ply is None:
            raise MaterialError(
                name, "it is one of your own, and something in it is wrong", "Put that right first."
            )
        return ply

    return find_ply


def _ply_of(material: Loose) -> PlyMaterial | None:
    whole = built(material)
    try:
        return None if whole is None else own_ply(whole)
    except MaterialError:
        return None


def built(material: Loose) -> Material | None:
    """Return a material of the user's own, or None where something in it could not be read or is missing."""
    entries = described_fields(Material).values()
    if not material.has(*(entry.name for entry in entries)):
        return None
    if any(is_needed(entry, material) and material[entry.name] is None for entry in entries):
        return None
    return Material(**material)


def material_rules(materials: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what is wrong with the user's own materials."""
    yield from unique(materials, "material")
    for material in materials:
        if not material.has("family"):
            continue
        own = material.family
        yield from _named_otherwise(material)
        values = {name: v for name, v in material.items() if isinstance(v, float)}
        for name, band in BANDS[own].items():
            if name in values and not band[0] <= values[name] <= band[1]:
                yield _outside(material, name, values.pop(name), band)
        kinds = (own, *(material.get(key) for key in ("basis", "form") if (own, key) in _KINDS))
        for kind in kinds:
            yield from _ratios(material, kind or "", values)
        if own == METAL:
            yield from _metal(material, values)
        if own == PLY:
            yield from _ply(material, values)


def _named_otherwise(material: Loose) -> Iterator[Problem]:
    """Yield a problem where a name of the tables is taken for another family, or for what makes plies."""
    if not material.has("name") or not kinds_of(material.name):
        return
    tabled = family(material.name, ()) or kinds_of(material.name)[0]
    if tabled != material.family:
        yield Problem(
            f"{material.path}.name",
            f'"{material.name}"',
            f"the tables have a {tabled} of this name, and yours is a {material.family}",
            "Give yours a name of its own.",
        )


def _outside(material: Loose, name: str, value: float, band: tuple[float, float]) -> Problem:
    low, high = band
    meant = [value * 10.0**n for n in (3, -3, 6, -6) if low <= value * 10.0**n <= high]
    return Problem(
        f"{material.path}.{_key(name)}",
        _shown(name, value),
        f"it lies outside {_shown(name, low)} to {_shown(name, high)}, where that of a {material.family} lies",
        f"Did you mean {_shown(name, meant[0])}?" if meant else "Check the number and its unit.",
    )


def _ratios(material: Loose, kind: str, values: dict[str, float]) -> Iterator[Problem]:
    for ratio in RATIOS.get(kind, ()):
        if ratio.of not in values or ratio.to not in values:
            continue
        share = values[ratio.of] / values[ratio.to]
        if not ratio.low <= share <= ratio.high:
            yield Problem(
                f"{material.path}.{_key(ratio.of)}",
                _shown(ratio.of, values[ratio.of]),
                f"it is {share:.3g} of {_key(ratio.to)}, {_shown(ratio.to, values[ratio.to])}; of "
                f"{_CALLED.get(kind, f'a {kind}')} it is {ratio.low:.3g} to {ratio.high:.3g}",
                "Check the two and their units, and whether they are swapped.",
            )


def _metal(m: Loose, values: dict[str, float]) -> Iterator[Problem]:
    proof, ultimate = values.get("proof_Pa"), values.get("ultimate_Pa")
    if proof is not None and ultimate is not None and proof > ultimate:
        yield Problem(
            f"{m.path}.proof",
            f"{proof / 1e6:.4g} MPa",
            f"it is above ultimate, {ultimate / 1e6:.4g} MPa",
            "Are the two swapped?",
        )
    if m.has("welded_proof_Pa", "welded_ultimate_Pa"):
        if (m.welded_proof_Pa is None) != (m.welded_ultimate_Pa is None):
            missing = "welded_proof" if m.welded_proof_Pa is None else "welded_ultimate"
            yield Problem(
                f"{m.path}.{missing}", "", "the two welded strengths belong together", f"Add {missing}."
            )
        for name in ("proof", "ultimate"):
            welded, parent = values.get(f"welded_{name}_Pa"), values.get(f"{name}_Pa")
            if welded is not None and parent is not None and welded > parent:
                yield Problem(
                    f"{m.path}.welded_{name}",
                    f"{welded / 1e6:.4g} MPa",
                    f"welding does not raise {name}, {parent / 1e6:.4g} MPa",
                    "Are the two swapped?",
                )
    if {"E_Pa", "G_Pa", "nu"} <= values.keys():
        isotropic = values["E_Pa"] / (2 * (1 + values["nu"]))
        if not 0.8 <= values["G_Pa"] / isotropic <= 1.25:
            yield Problem(
                f"{m.path}.G",
                f"{values['G_Pa'] / 1e9:.4g} GPa",
                f"a metal's shear modulus is E/(2 (1 + nu)) = {isotropic / 1e9:.4g} GPa, within a quarter",
                "Check E, G and nu.",
            )


def _ply(m: Loose, values: dict[str, float]) -> Iterator[Problem]:
    if {"nu12", "E1_Pa", "E2_Pa"} <= values.keys():
        square = values["nu12"] ** 2 * values["E2_Pa"] / values["E1_Pa"]
        if square >= 1:
            yield Problem(
                f"{m.path}.nu12",
                f"{values['nu12']:g}",
                f"nu12 squared times E2/E1 is {square:.3g}, and must be less than 1: no body can be so",
                "Give Poisson's ratio of shrinkage across for stretch along axis 1.",
            )
    for strain, strength, modulus, least in STRAINS:
        if strength not in values or modulus not in values:
            continue
        linear = values[strength] / values[modulus]
        stated = values.get(strain)
        if stated is None and not STRAIN_AT_BREAK[0] <= linear <= STRAIN_AT_BREAK[1]:
            yield Problem(
                f"{m.path}.{_key(strength)}",
                _shown(strength, values[strength]),
                f"over {_key(modulus)}, {_shown(modulus, values[modulus])}, it is a strain of {linear:.3g} at failure; "
                f"plies fail between {STRAIN_AT_BREAK[0]:g} and {STRAIN_AT_BREAK[1]:g}",
                "Check the two and their units.",
            )
        elif stated is not None and not least <= linear / stated <= MOST_OF_STRAIN:
            yield Problem(
                f"{m.path}.{strain}",
                f"{stated:g}",
                f"times {_key(modulus)} it is {stated * values[modulus] / 1e6:.4g} MPa, and {_key(strength)} is "
                f"{values[strength] / 1e6:.4g} MPa: {linear / stated:.2g} of it, where {least:g} to {MOST_OF_STRAIN:g} "
                "is usual",
                'Check the three; a strain in per cent is written "2.5 %".',
            )
    if {"fibre_fraction", "fibre_density_kg_m3", "density_kg_m3"} <= values.keys():
        share = values["fibre_fraction"]
        rest = (values["density_kg_m3"] - share * values["fibre_density_kg_m3"]) / (1 - share)
        if not RESIN_KG_M3[0] <= rest <= RESIN_KG_M3[1]:
            yield Problem(
                f"{m.path}.density",
                f"{values['density_kg_m3']:.4g} kg/m3",
                f"with the fibre that leaves {rest:.4g} kg/m3 for the resin, which has {RESIN_KG_M3[0]:g} to "
                f"{RESIN_KG_M3[1]:g}",
                "Check density, fibre_density and fibre_fraction, which is by volume.",
            )


def _key(name: str) -> str:
    return name.removesuffix("_Pa").removesuffix("_kg_m3")


def _shown(name: str, value: float) -> str:
    if name.endswith("_kg_m3"):
        return f"{value:.4g} kg/m3"
    if not name.endswith("_Pa"):
        return f"{value:.4g}"
    scale, unit = (1e9, "GPa") if name.startswith(("E", "G")) and value >= 1e9 else (1e6, "MPa")
    return f"{value / scale:.4g} {unit}"
