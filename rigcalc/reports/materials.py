"""Materials for the terminal: what each is taken to bear, and where that comes from."""

from __future__ import annotations

from ..materials import Metal, fatigue_details, metal_names, metals
from ..rig import Limits
from .timber import timber_list, timber_sheet

_MARK = {"read": "read", "memory": "from memory"}


def material_list() -> str:
    """Return one line for each material."""
    width = max(len(name) for name in metal_names())
    lines = [f"{'material':{width}}  {'wall mm':>11}  {'proof':>6}  {'tensile':>7}  strengths"]
    for metal in metals():
        use = "" if metal.design_use else "; for comparison only, refused for sizing"
        lines.append(
            f"{metal.name:{width}}  {_walls(metal):>11}  {metal.proof_Pa / 1e6:4.0f}    "
            f"{metal.ultimate_Pa / 1e6:4.0f} MPa  {_MARK[metal.strength_provenance]}{use}"
        )
    lines += timber_list()
    lines += ["", *_details(), ""]
    lines.append(
        "`rigcalc materials NAME` shows one in full. Check every value against the standard before you order."
    )
    return "\n".join(lines) + "\n"


def material_sheet(name: str) -> str | None:
    """Return everything known of a material, or None when there is none of that name."""
    rows = [metal for metal in metals() if metal.name == name]
    if not rows:
        return timber_sheet(name)
    limits = Limits()
    lines = [name, ""]
    for m in rows:
        lines += [f"wall {_walls(m)} mm, {m.standard}"]
        lines += _strengths(m, limits)
        lines += [
            f"  E {m.E_Pa / 1e9:g} GPa, G {m.G_Pa / 1e9:g} GPa, nu {m.nu:g}, density {m.density_kg_m3:g} kg/m3, "
            f"expansion {m.thermal_expansion_per_K * 1e6:g}e-6/K ({_MARK[m.elastic_provenance]})",
            f"  strengths: {_MARK[m.strength_provenance]}; {m.source}",
            f"  elastic: {m.elastic_source}",
        ]
        if m.note:
            lines.append(f"  note: {m.note}")
        if not m.design_use:
            lines.append("  For comparison only: typical values are refused for sizing.")
        lines.append("")
    return "\n".join(lines)


def _details() -> list[str]:
    """Return one line for each fatigue detail."""
    width = max(len(d.name) for d in fatigue_details())
    heading = f"{'fatigue detail of aluminium':{width}}  range borne two million times, and slope"
    return [
        heading,
        *(
            f"{d.name:{width}}  {d.category_Pa / 1e6:3.0f} MPa  {d.slope:3g}  {_MARK[d.provenance]}; {d.what}"
            for d in fatigue_details()
        ),
    ]


def _strengths(m: Metal, limits: Limits) -> list[str]:
    """Strength, factor and what is allowed, beside each other."""
    rows = [
        ("proof (0.2 %)", m.proof_Pa, "yield_factor", limits.yield_factor),
        ("tensile", m.ultimate_Pa, "rupture_factor", limits.rupture_factor),
        ("proof beside a weld", m.haz_proof_Pa, "yield_factor", limits.yield_factor),
        ("tensile beside a weld", m.haz_ultimate_Pa, "rupture_factor", limits.rupture_factor),
    ]
    lines = []
    for label, value, factor, gamma in rows:
        if value is None:
            lines.append(f"  {label:22} not known here")
            continue
        strength, allowed = f"{value / 1e6:5.0f} MPa", f"{value / gamma / 1e6:5.1f} MPa allowed"
        lines.append(f"  {label:22} {strength}  / {gamma:.2f} ({factor}) = {allowed}")
    return lines


def _walls(m: Metal) -> str:
    low = f"over {m.wall_over_m * 1e3:g}" if m.wall_over_m else ""
    high = f"to {m.wall_up_to_m * 1e3:g}" if m.wall_up_to_m is not None else ""
    return " ".join(part for part in (low, high) if part) or "any"
