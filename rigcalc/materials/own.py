"""The user's own materials as rows like those of the tables: read, in the source the user names."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from ..rig import Material
from ..rig.materials import APPARENT, CHARACTERISTIC, FOAM, METAL, PLY, TIMBER, TRUE
from .foams import Foam
from .metals import MaterialError, Metal
from .timber_tables import Average, ClearWood, StrengthClass, strength_classes

if TYPE_CHECKING:
    from .laminates.plies import PlyMaterial


def own_metal(material: Material) -> Metal:
    """Return a user's metal.

    Raises
    ------
    MaterialError
        If the material is of another family.
    """
    _demand(material, METAL)
    return Metal(
        name=material.name,
        E_Pa=_given(material.E_Pa),
        G_Pa=_given(material.G_Pa),
        nu=material.nu,
        density_kg_m3=material.density_kg_m3,
        thermal_expansion_per_K=None,
        proof_Pa=_given(material.proof_Pa),
        ultimate_Pa=_given(material.ultimate_Pa),
        haz_proof_Pa=material.welded_proof_Pa,
        haz_ultimate_Pa=material.welded_ultimate_Pa,
        buckling_class="A" if material.buckling_class == "A" else "B",
        elongation=None,
        design_use=True,
        standard="user's own",
        strength_provenance="read",
        elastic_provenance="read",
        source=material.source,
        elastic_source=material.source,
        note="",
        wall_over_m=0.0,
        wall_up_to_m=None,
    )


def own_timber(material: Material) -> ClearWood | StrengthClass:
    """Return a user's timber: averages of clear wood as a species, lower 5 % as a strength class.

    Raises
    ------
    MaterialError
        If the material is of another family.
    """
    _demand(material, TIMBER)
    return _graded(material) if material.basis == CHARACTERISTIC else _clear(material)


def _clear(m: Material) -> ClearWood:
    from ..formulas.timber import true_modulus

    E, green, note = _given(m.E_Pa), m.E_green_Pa, ""
    raised = float(true_modulus(E_a=1.0))
    free_of_shear = E * raised if m.E_is == APPARENT else E
    if m.E_is == TRUE:
        # the tables hold the modulus of a test beam: its shear is put back in
        E, green = E / raised, None if green is None else green / raised
        note = f"E was given free of shear; 1/{raised:.2f} of it is that of a test beam"
    ratio = None if m.G_Pa is None else m.G_Pa / free_of_shear
    return ClearWood(
        name=m.name,
        botanical_name="",
        specific_gravity_green=None,
        specific_gravity_dry=None,
        stated_density_kg_m3=m.density_kg_m3,
        bending=Average(green_Pa=m.bending_green_Pa, dry_Pa=m.bending_Pa),
        modulus=Average(green_Pa=green, dry_Pa=E),
        modulus_is_apparent=m.E_is in (APPARENT, TRUE),
        compression=Average(green_Pa=m.compression_green_Pa, dry_Pa=m.compression_Pa),
        compression_perp=Average(green_Pa=m.compression_perp_green_Pa, dry_Pa=m.compression_perp_Pa),
        shear=Average(green_Pa=m.shear_green_Pa, dry_Pa=m.shear_Pa),
        tension_perp=Average(green_Pa=m.tension_perp_green_Pa, dry_Pa=m.tension_perp_Pa),
        green_limit=m.green_limit,
        E_T_ratio=None,
        E_R_ratio=None,
        # alike both ways, so that their mean in torsion is the G given
        G_LR_ratio=ratio,
        G_LT_ratio=ratio,
        provenance="read",
        elastic_provenance=None if ratio is None else "read",
        source=m.source,
        elastic_source=m.source,
        note=note,
    )


def _graded(m: Material) -> StrengthClass:
    E, bending, shear = _given(m.E_Pa), _given(m.bending_Pa), _given(m.shear_Pa)
    estimated: list[tuple[str, str]] = []

    def estimate(of: str, base: str, base_Pa: float) -> float:
        share = min(getattr(row, of) / getattr(row, base) for row in strength_classes())
        called = base.removesuffix("_Pa").replace("_mean", "")
        how = f"{share:.3f} of {called}, the lowest of the classes of EN 338 in these tables (derived)"
        estimated.append((of, how))
        return float(share * base_Pa)

    def tabled(of: str, given: float | None, base: str, base_Pa: float) -> float:
        return estimate(of, base, base_Pa) if given is None else given

    G = m.G_Pa
    if G is None:
        G = E / 16
        how = "E/16 where G is not known: Wood Handbook, FPL-GTR-282 (2021), ch. 9, p. 9-5, read; the ratio of EN 338"
        estimated.append(("G_mean_Pa", how))
    estimated.append(("density_k_kg_m3", "the mean, the safe side where it is asked for"))
    return StrengthClass(
        name=m.name,
        bending_Pa=bending,
        tension_Pa=tabled("tension_Pa", m.tension_Pa, "bending_Pa", bending),
        tension_perp_Pa=tabled("tension_perp_Pa", m.tension_perp_Pa, "shear_Pa", shear),
        compression_Pa=_given(m.compression_Pa),
        compression_perp_Pa=_given(m.compression_perp_Pa),
        shear_Pa=shear,
        E_mean_Pa=E,
        E_05_Pa=tabled("E_05_Pa", m.E_low_Pa, "E_mean_Pa", E),
        E_perp_mean_Pa=estimate("E_perp_mean_Pa", "E_mean_Pa", E),
        G_mean_Pa=G,
        density_k_kg_m3=m.density_kg_m3,
        density_mean_kg_m3=m.density_kg_m3,
        provenance="read",
        source=m.source,
        note="",
        estimated=tuple(estimated),
    )


def own_ply(material: Material) -> PlyMaterial:
    """Return a user's ply.

    Raises
    ------
    MaterialError
        If the material is of another family, or a value cannot be.
    """
    from .laminates.plies import STRAINS, STRENGTHS, PlyMaterial
    from .laminates.tables import FORMS

    _demand(material, PLY)
    assert material.form is not None
    return PlyMaterial(
        name=material.name,
        fibres=FORMS[material.form],
        fibre_fraction=_given(material.fibre_fraction),
        fibre_density_kg_m3=_given(material.fibre_density_kg_m3),
        density_kg_m3=material.density_kg_m3,
        E1_Pa=_given(material.E1_Pa),
        E2_Pa=_given(material.E2_Pa),
        G12_Pa=_given(material.G12_Pa),
        nu12=_given(material.nu12),
        **{name: getattr(material, name) for name in (*STRENGTHS, *STRAINS)},
        provenance="read",
        source=material.source,
    )


def ply_finder(own: Sequence[Material]) -> Callable[[str], PlyMaterial]:
    """Return what finds a ply by name, the user's own before those of the tables.

    Raises
    ------
    MaterialError
        If a value of one of the user's cannot be; and by what is returned, where there is no such ply.
    """
    from .laminates.tables import find_ply_material

    plies = {material.name: own_ply(material) for material in own if material.family == PLY}

    def find_ply(name: str) -> PlyMaterial:
        return plies[name] if name in plies else find_ply_material(name, plies)

    return find_ply


def own_foam(material: Material) -> Foam:
    """Return a user's foam.

    Raises
    ------
    MaterialError
        If the material is of another family.
    """
    _demand(material, FOAM)
    return Foam(
        name=material.name,
        E_Pa=_given(material.E_Pa),
        G_Pa=_given(material.G_Pa),
        density_kg_m3=material.density_kg_m3,
        compression_Pa=_given(material.compression_Pa),
        shear_Pa=_given(material.shear_Pa),
        safety_factor=material.safety_factor,
        provenance="read",
        source=material.source,
    )


def _demand(material: Material, family: str) -> None:
    if material.family != family:
        raise MaterialError(
            material.name,
            f"it is one of your own of family {material.family}, and a {family} is wanted here",
            f"Name a {family}.",
        )


def _given(value: float | None) -> float:
    assert value is not None, "the reader asks for it"
    return value
