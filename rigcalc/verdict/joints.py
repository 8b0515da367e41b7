"""What a reader must know of nested tubes and of fatigue, beside their checks."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.joints import couple_rotation, packing_pressure, play_tilt, taken_up_play
from ..limits import RARE, Contact, Internal, details_used, joint_contacts, life_cycles
from ..rig import Rig
from ..structure.joints import Lap, laps_of
from ..structure.made_of import Metals
from ..structure.sections import Sections
from .evaluate import Run, internal_of

Floats = NDArray[np.float64]


def joint_warnings(rig: Rig, run: Run) -> Iterator[str]:
    """Say how far each sleeve is from being one with its tube, and what its checks leave out."""
    sections, internal = run.model.sections, internal_of(run.model, run.solved)
    contacts = joint_contacts(rig, sections, internal, Working())
    laps = laps_of(rig.mast, sections)
    for number in range(1, len(rig.mast.sleeve) + 1):
        own = [lap for lap in laps if lap.number == number]
        if not own:
            yield (
                f"sleeve {number} lies in or over a tube that is not of metal: it is counted as sharing its bending, "
                "and its joint is not checked."
            )
        for lap in own:
            there = [c for c in contacts if c.lap == lap]
            yield " ".join(_joint(lap, there, run, internal) if lap.joins else _stiffener(lap, sections))


def _stiffener(lap: Lap, sections: Sections) -> Iterator[str]:
    tube, sleeve = sections.layers[lap.below], sections.layers[lap.above]
    inside = np.max(sleeve.outer_m) < np.max(np.where(sleeve.present, tube.outer_m, 0.0))
    yield (
        f"sleeve {lap.number} lies {'inside' if inside else 'over'} the tube with up to {lap.play_m * 1e3:.2g} mm of "
        "play; it is counted as sharing the bending along its whole length, which holds only where the tubes touch."
    )


def _joint(lap: Lap, contacts: list[Contact], run: Run, internal: Internal) -> Iterator[str]:
    sections = run.model.sections
    low, high = (sections.at(internal.moment_N_m, end) for end in lap.ends(sections))
    worst = int(np.argmax(np.maximum(low, high)))
    ends = float(low[worst]), float(high[worst])
    play, bent = _tilts(lap, ends, sections)
    reach = (float(sections.mesh.edges_m[-1]) - lap.high_m) * 1e3
    here = np.broadcast_to(lap.elements(sections), sections.mesh.z_m.shape)
    pressure = float(
        packing_pressure(
            M_1=min(ends),
            M_2=max(ends),
            L=lap.length_m,
            D=lap.bore_m,
        )
    )
    case = run.names[worst // len(run.model.turns_rad)]
    yield (
        f"sleeve {lap.number} joins two lengths of tube over {lap.length_m:.2f} m from z = {lap.low_m:.2f} m, with "
        f"{lap.play_m * 1e3:.2g} mm of play. For stiffness they count as bent as one; where they touch at the ends "
        f"alone the tip goes up to {(play + bent) * reach:.0f} mm farther than worked out, {play * reach:.0f} mm of it "
        f"for the play and {bent * reach:.0f} mm for the bending of the joint in {case!r}."
    )
    yield (
        f"Packing is pressed with up to {pressure / 1e6:.2g} MPa. Only contact is counted: fasten the tubes against "
        f"sliding and turning, for {np.max(np.abs(internal.axial_N[:, here])):.0f} N and "
        f"{np.max(internal.torque_N_m[:, here]):.0f} N m."
    )
    taken = _taken_up(contacts, worst)
    if lap.play_m > taken:
        yield (
            f"The walls take up only {taken * 1e3:.2g} mm of the play by flattening there: they touch less than half "
            "the way round and are bent harder than counted. Pack the joint, and give the play that is left."
        )


def _tilts(lap: Lap, ends_N_m: tuple[float, float], sections: Sections) -> tuple[float, float]:
    """Return the tilt of the joint by its play, and its turn beyond that of tubes bent as one."""
    here = np.broadcast_to(lap.elements(sections), sections.mesh.z_m.shape)
    below, above = (float(np.min(sections.layers[i].EI_N_m2[0][here])) for i in (lap.below, lap.above))
    low, high = ends_N_m
    bent = couple_rotation(M_1=high, M_2=low, L=lap.length_m, EI_1=above, EI_2=below)
    return float(play_tilt(c=lap.play_m, L=lap.length_m)), float(bent)


def _taken_up(contacts: list[Contact], case: int) -> float:
    """Return the play that the walls take up at that end of a lap where they take up less."""
    taken = []
    for one in contacts:
        for other in contacts:
            if other.layer > one.layer and np.array_equal(one.force_N, other.force_N):
                taken.append(
                    float(taken_up_play(delta_1=one.flattening_m[case], delta_2=other.flattening_m[case]))
                )
    return min(taken)


def fatigue_warnings(rig: Rig, run: Run) -> Iterator[str]:
    """Say what the fatigue of the metal rests on, or that it was not looked at."""
    metal = any(isinstance(layer.made_of, Metals) for layer in run.model.sections.layers)
    if rig.fatigue is None:
        if metal:
            yield (
                "Fatigue is not looked at: add a [fatigue] table with the days at sea. Aluminium has no stress below "
                "which it lasts for ever under all the rolls of a life, and cracks start at welds, holes and the "
                "partners."
            )
        return
    if not metal:
        yield "The [fatigue] table is for metal, and nothing of this mast is: nothing was done with it."
        return
    cycles = life_cycles(rig, Working())
    if all(load.kind in RARE for load in run.loads):
        yield "Fatigue is not looked at: no case here is one that every roll at sea repeats."
        return
    yield (
        f"Fatigue is for {cycles:.2g} rolls: the load of each case but storms, knockdowns and lifts is that of the "
        "hardest of them, and the others are spread below it as in a narrow band (Rayleigh). Left out are the mast's "
        "own sway between rolls, wind at a mooring, fretting and bent walls under sleeves and bearings, and pits."
    )
    recalled = [
        f"{d.name} ({d.category_Pa / 1e6:g} MPa at two million cycles, slope {d.slope:g})"
        for d in details_used(rig)
        if d.provenance == "memory"
    ]
    if recalled:
        yield (
            f"Fatigue details from memory, low confidence: {', '.join(recalled)}. Check them against EN 1999-1-3 Annex "
            "J, or give categories and slopes."
        )


def wear_warnings(rig: Rig, run: Run) -> Iterator[str]:
    """Say where pitting and wear were given for nothing."""
    if rig.mast.wall_loss_m and not any(
        isinstance(layer.made_of, Metals) for layer in run.model.sections.layers
    ):
        yield "mast.wall_loss is for metal, and nothing of this mast is: nothing was taken off."
