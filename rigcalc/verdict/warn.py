"""What a reader must be warned of beside the verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..formulas import Working
from ..loads import holding_moment, largest_moment, standard_cases
from ..materials.laminates import doubts, lay_ups_of
from ..rig import HEEL_LIMITED, Case, Rig
from ..structure.made_of import Metals
from .evaluate import Run
from .foam import foam_warnings
from .joints import fatigue_warnings, joint_warnings, wear_warnings
from .model import Model
from .result import CaseResult, PathResult
from .thermal import thermal_warnings
from .timber import timber_warnings

LARGE_SHARE = 0.1
"""Tip deflection over length above the partners from which small-deflection figures are doubted."""
SHORT_BURY_SHARE = 0.08
CARBON_UP_TO_KG_M3 = 2000.0
"""Density that parts carbon fibres from those of glass."""
HEAT = (
    "Heat is not counted: an epoxy cured cold softens about 17 C above the warmest it has seen (read), and a dark spar "
    "in the sun reaches 60 to 80 C (from memory): post-cure it, and paint it light."
)


def path_warnings(run: Run, paths: Sequence[PathResult]) -> Iterator[str]:
    """Say where the load path decides the verdict."""
    for case in dict.fromkeys(path.case for path in paths):
        here = run.passed(case)
        other = [path for path in paths if path.case == case and path.passed != here]
        if other:
            names = " and ".join(f"{path.load_path} ({path.utilisation:.2f})" for path in other)
            verdict = "fails" if here else "passes"
            yield f"{case}: the load path decides the verdict: by {names} the case {verdict}."


def scope_warnings(rig: Rig, cases: Sequence[Case], only: str | None) -> Iterator[str]:
    """Say what a verdict does not speak of: cases left out, and a righting moment that is not the largest."""
    if only is not None:
        yield f"Only the case {only!r} was run: the verdict speaks of no other."
    elif rig.cases:
        left = dict.fromkeys(case.kind for case, _ in standard_cases(rig))
        for case in cases:
            left.pop(case.kind, None)
        if left:
            yield (
                f"The file's own cases take the place of the standard set: no case of kind {', '.join(left)} is among "
                "them. `rigcalc cases` on the file without its [[case]] tables shows what would be run."
            )
    if rig.boat.stability.gm_m is not None and any(case.kind == HEEL_LIMITED for case in cases):
        yield (
            "GM and BM leave out the crew sitting to windward, who in a small boat can double what she holds: give "
            "moment_30 and moment_max, or a table, with them on the rail."
        )
    for case in cases:
        if case.kind == HEEL_LIMITED:
            held = holding_moment(rig, case, Working())
            if held is not None and held[0] == "RM30" and largest_moment(rig.boat, Working()) is None:
                yield (
                    f"{case.name}: the stability data give no largest righting moment, which is often half as much "
                    "again as that at 30 deg: the dynamic factor may be used up by it. Give a table past its peak."
                )


def mast_warnings(rig: Rig, run: Run, cases: tuple[CaseResult, ...]) -> Iterator[str]:
    """Say what is doubtful of the mast and its materials."""
    above = rig.mast.length_m - rig.mast.bury_m
    for case in cases:
        if case.tip_deflection_large_m is None:
            yield (
                f"{case.name}: no equilibrium was found on the bent mast; it is far too weak, "
                "and this case cannot pass."
            )
        elif case.tip_deflection_m > LARGE_SHARE * above:
            yield (
                f"{case.name}: the tip moves {case.tip_deflection_m / above:.0%} of the length above the partners; on "
                f"the bent mast it is {case.tip_deflection_large_m:.3f} m against {case.tip_deflection_m:.3f} m "
                "straight."
            )
    layers = run.model.sections.layers
    metals = dict.fromkeys(
        m for layer in layers if isinstance(layer.made_of, Metals) for m in layer.made_of.rows
    )
    for name, standard in {m.name: m.standard for m in metals if m.strength_provenance == "memory"}.items():
        yield f"The strengths of {name} are from memory; check them against {standard}."
    for name, standard in {m.name: m.standard for m in metals if m.buckling_class is None}.items():
        yield f"{standard} gives {name} no buckling class; class B, the lower, is used."
    yield from _laminate_warnings(rig, run.model)
    yield from timber_warnings(rig, run.model.sections)
    yield from thermal_warnings(run.model.sections, Working())
    yield from foam_warnings(run.model.sections)
    yield from joint_warnings(rig, run)
    yield from fatigue_warnings(rig, run)
    yield from wear_warnings(rig, run)
    if rig.mast.bury_m < SHORT_BURY_SHARE * rig.mast.length_m:
        yield (
            f"The bury is {rig.mast.bury_m / rig.mast.length_m:.0%} of the mast; below about {SHORT_BURY_SHARE:.0%} "
            "the bearing forces grow fast (common practice, from memory)."
        )


def _laminate_warnings(rig: Rig, model: Model) -> Iterator[str]:
    """Say what is doubtful of the laminates that the mast or its sheaths are made of."""
    laid, mast = lay_ups_of(rig), rig.mast
    used = [(sheath.laminate, sheath.start_m, sheath.end_m) for sheath in mast.sheath]
    if mast.material in laid:
        used.insert(0, (mast.material, 0.0, mast.length_m))
    yield from dict.fromkeys(
        text for name, low, high in used for text in doubts(laid[name], low, high, wall=name == mast.material)
    )
    named = {name for name, *_ in used}
    yield from (f"The laminate {name!r} is no part of this mast." for name in laid if name not in named)
    if not used:
        return
    yield HEAT
    if any(isinstance(layer.made_of, Metals) for layer in model.sections.layers) and any(
        lot.ply.fibre_density_kg_m3 < CARBON_UP_TO_KG_M3 for name, *_ in used for lot in laid[name].lots
    ):
        yield (
            "Carbon on aluminium eats the metal away wherever water comes between: lay glass between them, and seal "
            "the ends (common practice, from memory)."
        )
