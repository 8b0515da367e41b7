"""A second opinion on an input deck: it is read back, and its beams are assembled and solved.

Euler-Bernoulli elements in three dimensions along z, springs, supports; nothing of the package is used. Degrees of
freedom 4 and 5 of a node are the slopes of its sideways and of its forward deflection, not turns about axes:
no deck loads or holds them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DOFS = 6
FORWARD, SIDE, ALONG, SIDE_SLOPE, FORWARD_SLOPE, TWIST = range(DOFS)


@dataclass(frozen=True)
class Block:
    """One keyword with its parameters and data lines."""

    keyword: str
    parameters: dict[str, str]
    rows: tuple[tuple[str, ...], ...]

    def numbers(self, row: int) -> list[float]:
        return [float(word) for word in self.rows[row]]


def blocks(text: str) -> list[Block]:
    """Read a deck: comments out, keywords and parameters in capitals."""
    found: list[tuple[str, dict[str, str], list[tuple[str, ...]]]] = []
    for line in text.splitlines():
        if line.startswith("**"):
            continue
        words = [word.strip() for word in line.split(",")]
        if line.startswith("*"):
            pairs = [word.partition("=") for word in words[1:]]
            parameters = {name.strip().upper(): value.strip() for name, _, value in pairs}
            found.append((words[0][1:].upper(), parameters, []))
        else:
            found[-1][2].append(tuple(words))
    return [Block(keyword, parameters, tuple(rows)) for keyword, parameters, rows in found]


@dataclass
class Case:
    """One step: who holds, and what pushes (node, degree of freedom from 0) -> value."""

    held: set[tuple[int, int]]
    loads: dict[tuple[int, int], float] = field(default_factory=dict)


@dataclass(frozen=True)
class Answer:
    """Deflections and forces of the supports, (node, degree of freedom) -> value; loads on them taken off."""

    moved: dict[tuple[int, int], float]
    reaction: dict[tuple[int, int], float]


@dataclass(frozen=True)
class Frame:
    """What a deck says."""

    z_m: dict[int, float]
    beams: tuple[tuple[int, int, str], ...]
    springs: tuple[tuple[int, int, int, float], ...]
    sections: dict[str, tuple[float, float, float, float]]
    sets: dict[str, tuple[int, ...]]
    cases: tuple[Case, ...]

    def total(self, case: int, dof: int, arm: bool = False) -> float:
        """Return the sum of the loads in one direction, or of their moments about z = 0."""
        loads = self.cases[case].loads.items()
        return sum(value * (self.z_m[node] if arm else 1.0) for (node, way), value in loads if way == dof)

    def solve(self) -> list[Answer]:
        index = {node: i * DOFS for i, node in enumerate(self.z_m)}
        K = np.zeros((len(index) * DOFS,) * 2)
        for low, high, name in self.beams:
            at = [*range(index[low], index[low] + DOFS), *range(index[high], index[high] + DOFS)]
            K[np.ix_(at, at)] += _beam(self.z_m[high] - self.z_m[low], *self.sections[name])
        for one, other, dof, stiffness in self.springs:
            i, j = index[one] + dof, index[other] + dof
            K[np.ix_([i, j], [i, j])] += stiffness * np.array([[1, -1], [-1, 1]])
        return [self._solve(K, index, case) for case in self.cases]

    def _solve(self, K: Floats, index: dict[int, int], case: Case) -> Answer:
        push = np.zeros(len(K))
        for (node, dof), value in case.loads.items():
            push[index[node] + dof] += value
        held = np.zeros(len(K), dtype=bool)
        held[[index[node] + dof for node, dof in case.held]] = True
        # a node of the hull has no turns
        free = ~held & (np.abs(np.diag(K)) > 0.0)
        assert not np.any(push[~held & ~free])
        moved = np.zeros(len(K))
        # slopes and deflections are of very different stiffness
        scale = 1 / np.sqrt(np.diag(K)[free])
        moved[free] = scale * np.linalg.solve(
            K[np.ix_(free, free)] * np.outer(scale, scale), scale * push[free]
        )
        reaction = K @ moved - push
        return Answer(
            {(node, dof): float(moved[i + dof]) for node, i in index.items() for dof in range(DOFS)},
            {(node, dof): float(reaction[index[node] + dof]) for node, dof in case.held},
        )


def _beam(length: float, E: float, nu: float, along_x: float, along_y: float) -> Floats:
    area = along_x * along_y
    K = np.zeros((2 * DOFS, 2 * DOFS))
    for move, slope, EI in (
        (FORWARD, FORWARD_SLOPE, E * along_y * along_x**3 / 12),
        (SIDE, SIDE_SLOPE, E * along_x * along_y**3 / 12),
    ):
        at = [move, slope, DOFS + move, DOFS + slope]
        h = length
        K[np.ix_(at, at)] = (
            EI
            / h**3
            * np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, 4 * h**2, -6 * h, 2 * h**2],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, 2 * h**2, -6 * h, 4 * h**2],
                ]
            )
        )
    # of a square; twist is not read
    torsion = E / (2 * (1 + nu)) * 0.1406 * area**2
    for dof, stiffness in ((ALONG, E * area / length), (TWIST, torsion / length)):
        at = [dof, DOFS + dof]
        K[np.ix_(at, at)] = stiffness * np.array([[1, -1], [-1, 1]])
    return K


def read(text: str) -> Frame:
    """Read a deck of beams along z."""
    z_m: dict[int, float] = {}
    beams, springs, cases = [], [], []
    elements: dict[str, list[tuple[int, int]]] = {}
    materials: dict[str, tuple[float, float]] = {}
    sections: dict[str, tuple[float, float, float, float]] = {}
    sets: dict[str, tuple[int, ...]] = {}
    held: set[tuple[int, int]] = set()
    material = ""
    in_step = False
    for block in blocks(text):
        match block.keyword:
            case "NODE":
                nodes = [(int(row[0]), *map(float, row[1:])) for row in block.rows]
                assert all(x == y == 0.0 for _, x, y, _ in nodes)
                z_m |= {number: z for number, _, _, z in nodes}
            case "ELEMENT":
                own = [(int(row[1]), int(row[2])) for row in block.rows]
                elements[block.parameters["ELSET"]] = own
                if block.parameters["TYPE"] == "B31":
                    beams += [(*ends, block.parameters["ELSET"]) for ends in own]
                else:
                    assert block.parameters["TYPE"] == "SPRING2"
            case "SPRING":
                (ends,) = elements[block.parameters["ELSET"]]
                first, second = (int(word) - 1 for word in block.rows[0])
                assert first == second
                springs.append((*ends, first, float(block.rows[1][0])))
            case "MATERIAL":
                material = block.parameters["NAME"]
            case "ELASTIC":
                E, nu = block.numbers(0)
                materials[material] = (E, nu)
            case "BEAM SECTION":
                assert block.parameters["SECTION"] == "RECT"
                assert block.numbers(1) == [1.0, 0.0, 0.0]
                along_x, along_y = block.numbers(0)
                sections[block.parameters["ELSET"]] = (
                    *materials[block.parameters["MATERIAL"]],
                    along_x,
                    along_y,
                )
            case "NSET":
                sets[block.parameters["NSET"]] = tuple(int(word) for row in block.rows for word in row)
            case "BOUNDARY":
                if in_step:
                    assert block.parameters == {"OP": "NEW"}
                    held = set()
                for row in block.rows:
                    node, first, last = (int(word) for word in row)
                    held |= {(node, dof - 1) for dof in range(first, last + 1)}
                if in_step:
                    cases[-1].held = set(held)
            case "STEP":
                in_step = True
                cases.append(Case(set(held)))
            case "CLOAD":
                assert block.parameters == {"OP": "NEW"}
                for row in block.rows:
                    key = (int(row[0]), int(row[1]) - 1)
                    assert key not in cases[-1].loads
                    cases[-1].loads[key] = float(row[2])
            case "HEADING" | "STATIC" | "NODE PRINT" | "NODE FILE" | "END STEP":
                pass
            case other:
                raise AssertionError(other)
    return Frame(z_m, tuple(beams), tuple(springs), sections, sets, tuple(cases))


def told(text: str) -> list[tuple[str, float]]:
    """Return name and turn, in radians, of the cases as the comments of a deck have them."""
    lines = re.findall(r"^\*\* CASE: (.*(?:\n\*\* (?!Check).*)*)", text, re.MULTILINE)
    found = []
    for line in lines:
        name, _, turn = line.replace("\n** ", " ").partition(", mast turned by t = ")
        found.append((name, np.radians(float(turn.removesuffix(" deg"))) if turn else 0.0))
    return found
