"""The stations of a mast as columns: the mast's own, and those of every case."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...formulas import Working
from ...frozen import dataclass
from ...rig import Rig
from ...structure.sections import Sections
from ...verdict import CheckResult, build_model, cases_of, check
from ...verdict.evaluate import laid_cases
from ...verdict.post import post_of

Floats = NDArray[np.float64]

AXES = (
    "SI units, named at the end of each column. z is the height above the heel bearing; side is to leeward, "
    "forward is forward.",
    "A height that stands twice is a jump: just below it, then just above it.",
    "Shear, moment, slope and deflection are those of the straight mast, in the boat's axes; a mast that is not "
    "round is shown at the turn at which its tip goes farthest. EI_N_m2 is the weaker of the two ways.",
    "Utilisation is demand over capacity, the greatest of the checks made all along the mast, on the straight and "
    "on the bent mast, at every turn.",
)


@dataclass(frozen=True)
class Table:
    """Columns over the heights of one mesh.

    Parameters
    ----------
    result : CheckResult
        The check they come from.
    mast : dict of str to ndarray, shape (heights,)
        Columns of the mast, in order.
    cases : tuple of dict
        Columns of every case of the result, in its order.
    """

    result: CheckResult
    mast: dict[str, Floats]
    cases: tuple[dict[str, Floats], ...]


def table_of(rig: Rig, *, case: str | None = None) -> Table:
    """Check a rig and return its stations.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    result = check(rig, case=case)
    s = result.stations
    cases, _ = cases_of(rig, case)
    # the check has said already what there is to say of ranges
    sections = build_model(rig, laid_cases(rig, cases, Working()), post_of(rig)).sections
    of_mast = ("height_m", "diameter_m", "wall_m", "EI_N_m2")
    of_case = [name for name in vars(s) if name not in (*of_mast, "cases")]
    return Table(
        result,
        {**{name: getattr(s, name) for name in of_mast}, **_of_sections(sections)},
        tuple({name: getattr(s, name)[i] for name in of_case} for i in range(len(s.cases))),
    )


def _of_sections(sections: Sections) -> dict[str, Floats]:
    """Return what the stations of a result leave out."""
    side, forward = sections.planes_N_m2
    across = [
        np.max([getattr(layer.shape, name) for layer in sections.layers], axis=0)
        for name in ("outer_forward_m", "outer_side_m")
    ]
    columns = {
        "outer_forward_m": across[0],
        "outer_side_m": across[1],
        "EI_side_N_m2": side,
        "EI_forward_N_m2": forward,
        "GJ_N_m2": sections.GJ_N_m2,
        "EA_N": sections.EA_N,
        "mass_kg_m": sections.mass_kg_m,
    }
    shape = sections.mesh.z_m.shape
    return {name: np.broadcast_to(column, shape).reshape(-1) for name, column in columns.items()}
