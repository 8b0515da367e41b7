"""The mast and its cases as straight beam elements with forces at their nodes.

Method. The mesh of the check is cut finer; each piece becomes one two-node element of one stiffness, that
of the mean flexibility over it. Loads go to the two ends of a piece by lever, so that force and moment of
every case are kept to rounding; what is lost is the moment of a load between the ends of its own piece. The
deflection closes in with the square of the pieces' length.

A real outline must not stand in such a deck. Open solvers make solids of beam elements and tie the end faces
of neighbours of different size, and every face whose turning is held, to rigid plates: where Poisson's ratio
is above zero the plates hold back the swelling of the solid, at every step of a taper, and the mast comes
out stiffer by a tenth and more, whatever the refinement. So every piece has the same slim rectangle and its
own modulus, which gives its EI both ways, and Poisson's ratio is zero. The slim section has next to no give
in shear either: the check has none.

All stands in the mast's own axes; a mast that is not round is shown in every case at the turn at which its
tip goes farthest.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...formulas import Working
from ...frozen import dataclass
from ...quadrature import lobatto
from ...rig import Rig
from ...structure.beam import Supports
from ...structure.mesh import POINTS, Mesh
from ...structure.sections import Sections
from ...verdict import Run, cases_of, evaluate, formulas_have_values
from ...verdict.model import ALONG, FORWARD, SIDE
from ...verdict.turns import Turns

Floats = NDArray[np.float64]

IN_BURY, ABOVE = 24, 96
"""Least number of pieces below and above the partners: the error is about a quarter over its square."""
SLIM = 40
"""How often the side of the stand-in section goes into the bury: its give in shear is then below 1e-4."""
SHEAR_SHARE = 0.5
"""Share of a thin round tube's area that takes shear: 2(1 + nu)/(4 + 3 nu), Cowper 1966, from memory."""
SAME = 1e-9
"""Relative difference below which two pieces are of one section."""


@dataclass(frozen=True)
class Stretch:
    """Neighbouring pieces of one section.

    Parameters
    ----------
    first, last : int
        Its pieces, the last among them.
    low_m, high_m : float
        Where it begins and ends.
    outer_m : float
        Outside size of the true section, the larger of two.
    EI_side_N_m2, EI_forward_N_m2, GJ_N_m2, EA_N, mass_kg_m : float
        Its stiffness and mass.
    """

    first: int
    last: int
    low_m: float
    high_m: float
    outer_m: float
    EI_side_N_m2: float
    EI_forward_N_m2: float
    GJ_N_m2: float
    EA_N: float
    mass_kg_m: float


@dataclass(frozen=True)
class Step:
    """One case.

    Parameters
    ----------
    case : str
        Its name.
    held_at_m : tuple of float or None
        Heights of its two supports, where they are not step and partners.
    turn_rad : float
        How far the mast is turned from fore and aft towards leeward.
    force_N : ndarray, shape (3, nodes)
        Forward, to leeward, and up the mast.
    torque_N_m : ndarray, shape (nodes,)
        About the mast.
    lower_N, upper_N, tip_m : tuple of float
        Forces of the supports on the mast, and deflection of the tip, forward and to leeward, as the check has
        them for the straight mast.
    shear_tip_m : float
        What the give of shear would add to the deflection of the tip.
    """

    case: str
    held_at_m: tuple[float, float] | None
    turn_rad: float
    force_N: Floats
    torque_N_m: Floats
    lower_N: tuple[float, float]
    upper_N: tuple[float, float]
    tip_m: tuple[float, float]
    shear_tip_m: float


@dataclass(frozen=True)
class Deck:
    """A mast as beam elements, and its cases.

    Parameters
    ----------
    title : str
        Of the rig.
    side_m : float
        Side of the square whose area every stand-in section has.
    z_m : ndarray, shape (nodes,)
        Heights of the nodes, from the heel up.
    twist_nodes : tuple of int
        Nodes, from 1, at which no case has a torque: the heel first.
    stretches : tuple of Stretch
        From the heel up.
    supports : Supports
        Step and partners.
    round : bool
        Whether the mast is as stiff one way as the other.
    on_post : bool
        Whether the give of the partners is that of a post too.
    steps : tuple of Step
        Those held alike together, those held by step and partners first.
    """

    title: str
    side_m: float
    z_m: Floats
    twist_nodes: tuple[int, ...]
    stretches: tuple[Stretch, ...]
    supports: Supports
    round: bool
    on_post: bool
    steps: tuple[Step, ...]

    def node_at(self, height_m: float) -> int:
        """Return the number of the node at a height, from 1 at the heel."""
        return int(np.argmin(np.abs(self.z_m - height_m))) + 1


@dataclass(frozen=True)
class _Pieces:
    """Elements of a mesh cut into pieces.

    Parameters
    ----------
    mesh : Mesh
        Before the cut.
    element : ndarray of int, shape (pieces,)
        Element that each is cut from.
    low, high : ndarray, shape (pieces,)
        Its ends, on -1 to 1 of the element.
    """

    mesh: Mesh
    element: NDArray[np.int_]
    low: Floats
    high: Floats

    @property
    def z_m(self) -> Floats:
        """Heights of the nodes between and at the ends of the pieces."""
        edges = self.mesh.edges_m
        start, end = edges[self.element], edges[self.element + 1]
        # where a piece begins with its element the node is the edge itself, to the last digit
        return np.append(start + (end - start) * (1 + self.low) / 2, edges[-1])

    @property
    def edge_nodes(self) -> NDArray[np.int_]:
        """Nodes at the edges of the mesh."""
        return np.append(np.flatnonzero(self.low == -1.0), self.low.size)

    def at(self, field: Floats, share: Floats) -> Floats:
        """Return a field of the mesh, shape (..., n, POINTS), at shares of each piece, shape (..., pieces, shares)."""
        points, _, _ = lobatto(POINTS)
        t = self.low[:, None] + (self.high - self.low)[:, None] * share
        basis = np.polynomial.legendre.legvander
        through = basis(t, POINTS - 1) @ np.linalg.inv(basis(points, POINTS - 1))
        return np.asarray(np.einsum("psk,...pk->...ps", through, field[..., self.element, :]))


def deck_of(rig: Rig, *, case: str | None = None) -> Deck:
    """Work out a rig and return it as beam elements.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    cases, _ = cases_of(rig, case)
    with formulas_have_values():
        run = evaluate(rig, cases, Working())
    model = run.model
    pieces = _cut(model.mesh, rig.mast.bury_m)
    steps = [_step(run, i, pieces) for i in range(len(run.loads))]
    held = list(dict.fromkeys([None, *(step.held_at_m for step in steps)]))
    return Deck(
        title=rig.title,
        side_m=rig.mast.bury_m / SLIM,
        z_m=pieces.z_m,
        twist_nodes=(1, *(np.flatnonzero(pieces.low > -1.0) + 1).tolist()),
        stretches=_stretches(model.sections, pieces),
        supports=model.supports,
        round=model.sections.even,
        on_post=run.post is not None,
        steps=tuple(sorted(steps, key=lambda step: held.index(step.held_at_m))),
    )


def _cut(mesh: Mesh, bury_m: float) -> _Pieces:
    edges = mesh.edges_m
    length = np.diff(edges)
    above = (edges[:-1] + edges[1:]) / 2 > bury_m
    longest = np.where(above, (edges[-1] - bury_m) / ABOVE, bury_m / IN_BURY)
    # two at the least: see `_nodal_torque`
    counts = np.maximum(2, np.ceil(length / longest - 1e-9)).astype(int)
    ends = [np.linspace(-1.0, 1.0, count + 1) for count in counts]
    return _Pieces(
        mesh,
        np.repeat(np.arange(counts.size), counts),
        np.concatenate([e[:-1] for e in ends]),
        np.concatenate([e[1:] for e in ends]),
    )


def _gauss() -> tuple[Floats, Floats]:
    """Return points and weights on (0, 1)."""
    nodes, weights = np.polynomial.legendre.leggauss(POINTS)
    return (1 + nodes) / 2, weights / 2


def _stretches(sections: Sections, pieces: _Pieces) -> tuple[Stretch, ...]:
    at, weights = _gauss()

    def mean(field: Floats) -> Floats:
        return np.asarray(pieces.at(np.broadcast_to(field, sections.mesh.z_m.shape), at) @ weights)

    # pieces give way one after the other: it is their flexibilities that are averaged
    soft = [1 / mean(1 / field) for field in (*sections.planes_N_m2, sections.GJ_N_m2, sections.EA_N)]
    values = np.stack([mean(sections.outer_m), *soft, mean(sections.mass_kg_m)])
    z = pieces.z_m
    found: list[Stretch] = []
    first = 0
    for last in range(values.shape[1]):
        following = values[:, last + 1 : last + 2]
        if following.size and np.allclose(values[:, first], following[:, 0], rtol=SAME, atol=0.0):
            continue
        sizes = values[:, first].tolist()
        found.append(Stretch(first, last, float(z[first]), float(z[last + 1]), *sizes))
        first = last + 1
    return tuple(found)


def _step(run: Run, i: int, pieces: _Pieces) -> Step:
    load, model, small = run.loads[i], run.model, run.solved.small
    turns = Turns(model, run.solved, i)
    at = turns.widest
    deck_axes = [FORWARD, SIDE, ALONG]

    def across(field: Floats) -> tuple[float, float]:
        return float(field[FORWARD, at]), float(field[SIDE, at])

    return Step(
        case=load.name,
        held_at_m=load.held_at_m,
        turn_rad=model.turns_rad[at - turns.first],
        force_N=_nodal(pieces, model.line_N_m[deck_axes, at], model.point_N[deck_axes, at]),
        torque_N_m=_nodal_torque(pieces, model.torque_N_m[at]),
        # the engine counts the bearings' forces against the load; here they are the forces on the mast
        lower_N=across(-small.heel_N),
        upper_N=across(-small.partners_N),
        tip_m=across(small.deflection_m[..., -1, -1]),
        shear_tip_m=_shear_tip(model.sections, small.shear_N[:, at], load.held_at_m, model.supports),
    )


def _nodal(pieces: _Pieces, line_N_m: Floats, point_N: Floats) -> Floats:
    """Return loads along and at the edges of the mesh as forces at the nodes, shape (3, nodes)."""
    at, weights = _gauss()
    z = pieces.z_m
    load = pieces.at(line_N_m, at) * weights * np.diff(z)[:, None]
    nodal = np.zeros((line_N_m.shape[0], z.size))
    nodal[:, :-1] += load @ (1 - at)
    nodal[:, 1:] += load @ at
    nodal[:, pieces.edge_nodes] += point_N
    return nodal


def _nodal_torque(pieces: _Pieces, torque_N_m: Floats) -> Floats:
    """Return the torques at the nodes that make a torque along the mast, its whole at the foot.

    What comes in along an element of the mesh is put in at its upper end, so that the foot and the nodes within
    elements, of which each has one at the least, are free of torque.
    """
    below = torque_N_m[:, 0]
    comes_in = below - np.append(below[1:], 0.0)
    nodal = np.zeros(pieces.low.size + 1)
    # rounding is no torque
    nodal[pieces.edge_nodes[1:]] = np.where(np.abs(comes_in) > 1e-12 * np.max(np.abs(below)), comes_in, 0.0)
    return nodal


def _shear_tip(
    sections: Sections, shear_N: Floats, held_at_m: tuple[float, float] | None, supports: Supports
) -> float:
    """Return what the give of shear adds to the deflection of the tip: by a unit force there, both planes together."""
    mesh = sections.mesh
    low, high = (supports.lower_m, supports.bury_m) if held_at_m is None else held_at_m
    middle = (mesh.edges_m[:-1] + mesh.edges_m[1:])[:, None] / 2
    unit = np.where(
        middle > high, 1.0, np.where(middle > low, -(mesh.edges_m[-1] - high) / (high - low), 0.0)
    )
    GA = sum(layer.elastic.G_Pa * layer.shape.area_m2 for layer in sections.layers)
    return float(np.hypot(*mesh.total(shear_N * unit / (SHEAR_SHARE * GA))))
