"""Random masts in plain numbers, and the rig file that says the same.

What stands here is the peers' own reading of a mast: outside, wall, sleeve, loads. Nothing of the package is used.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rigcalc import CheckResult, check, read_rig

Floats = NDArray[np.float64]

G = 9.80665


@dataclass(frozen=True)
class Alloy:
    """A metal of the file's own."""

    name: str
    E: float
    G: float
    nu: float
    density: float

    @property
    def text(self) -> str:
        return f"""[[material]]
name = "{self.name}"
family = "metal"
E = "{self.E!r} Pa"
G = "{self.G!r} Pa"
nu = {self.nu!r}
density = "{self.density!r} kg/m3"
proof = "240 MPa"
ultimate = "290 MPa"
source = "invented"
"""


@dataclass(frozen=True)
class Piece:
    """A tube whose outside and wall are linear from its foot to its head."""

    z0: float
    z1: float
    d0: float
    d1: float
    t0: float
    t1: float
    alloy: Alloy

    def sizes(self, z: Floats) -> tuple[Floats, Floats]:
        share = (z - self.z0) / (self.z1 - self.z0)
        return self.d0 + share * (self.d1 - self.d0), self.t0 + share * (self.t1 - self.t0)

    def area(self, z: Floats) -> Floats:
        d, t = self.sizes(z)
        return np.asarray(np.pi * t * (d - t))

    def second(self, z: Floats) -> Floats:
        d, t = self.sizes(z)
        return np.asarray(np.pi / 64 * (d**4 - (d - 2 * t) ** 4))


@dataclass(frozen=True)
class Line:
    """A load across the mast, linear from one height to another."""

    z0: float
    z1: float
    w0: float
    w1: float

    def at(self, z: float) -> float:
        return self.w0 + (z - self.z0) / (self.z1 - self.z0) * (self.w1 - self.w0)


@dataclass(frozen=True)
class Mast:
    """A mast on two bearings and what pushes it to leeward.

    Parameters
    ----------
    tubes : tuple of Piece
        From heel to tip.
    sleeves : tuple of Piece
        Inside the tubes, bent as they are.
    fittings : (mass, height)
        A mass aloft.
    lines, points : tuple
        Loads to leeward.
    axial : float
        Compression at the tip.
    """

    tubes: tuple[Piece, ...]
    sleeves: tuple[Piece, ...]
    bury: float
    fittings: tuple[float, float]
    lines: tuple[Line, ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    axial: float = 0.0
    stiffness: tuple[float, float] | None = None

    @property
    def length(self) -> float:
        return self.tubes[-1].z1

    @property
    def kinks(self) -> list[float]:
        """Heights at which anything changes."""
        found = {0.0, self.length, self.bury, self.fittings[1]}
        for piece in (*self.tubes, *self.sleeves, *self.lines):
            found |= {piece.z0, piece.z1}
        return sorted(found | {z for z, _ in self.points})

    def pieces(self, inside: float) -> list[Piece]:
        tube = self.tubes[bisect_right([p.z0 for p in self.tubes], inside) - 1]
        return [tube, *(s for s in self.sleeves if s.z0 < inside < s.z1)]

    def EI(self, z: Floats, inside: float) -> Floats:
        """Bending stiffness at heights of the stretch that has ``inside`` in it."""
        return np.asarray(sum(p.alloy.E * p.second(z) for p in self.pieces(inside)))

    def mass(self, z: Floats, inside: float) -> Floats:
        return np.asarray(sum(p.alloy.density * p.area(z) for p in self.pieces(inside)))

    def grid(self, pieces: int, *, halves: bool = False) -> list[float]:
        """Return heights with every kink among them and no more than a share of the length apart, or half of that."""
        cuts = []
        for a, b in pairwise(self.kinks):
            count = int(np.ceil((b - a) / self.length * pieces - 1e-9)) * (2 if halves else 1)
            cuts.append(np.linspace(a, b, count + 1)[:-1])
        return [*np.concatenate(cuts).tolist(), self.length]

    def text(self, more: str = "") -> str:
        """Return the rig file; its only case is the loads given here unless more is named."""

        def stations() -> str:
            rows = [(p.z0, p.d0, p.t0) for p in self.tubes], [(p.z1, p.d1, p.t1) for p in self.tubes]
            ordered = [row for pair in zip(*rows, strict=True) for row in pair]
            return ", ".join(
                f'{{height = "{z!r} m", diameter = "{d!r} m", wall = "{t!r} m"}}'
                for z, d, t in dict.fromkeys(ordered)
            )

        sleeves = "".join(
            f'[[mast.sleeve]]\nstart = "{s.z0!r} m"\nend = "{s.z1!r} m"\ndiameter = "{s.d0!r} m"\n'
            f'wall = "{s.t0!r} m"\nmaterial = "{s.alloy.name}"\nplay = "0 mm"\n'
            for s in self.sleeves
        )
        alloys = {p.alloy for p in (*self.tubes, *self.sleeves)}
        springs = ""
        if self.stiffness is not None:
            springs = "".join(
                f'[bearings.{name}]\nstiffness = "{k!r} N/m"\n'
                for name, k in zip(("step", "partners"), self.stiffness, strict=True)
            )
        return f"""title = "peer"
[boat]
displacement = "900 kg"
waterline = "0.4 m"
lateral_centre = "0 m"
[boat.stability]
moment_max = "4000 N m"
[mast]
length = "{self.length!r} m"
bury = "{self.bury!r} m"
material = "{self.tubes[0].alloy.name}"
fittings_mass = "{self.fittings[0]!r} kg"
fittings_height = "{self.fittings[1]!r} m"
stations = [{stations()}]
{sleeves}
{"".join(sorted(a.text for a in alloys))}
{springs}
{more or self.case_text}
"""

    @property
    def case_text(self) -> str:
        # a curve of the file may jump: two entries at one height
        entries = [f'["{z!r} m", "{w!r} N/m"]' for s in self.lines for z, w in ((s.z0, s.w0), (s.z1, s.w1))]
        points = [f'{{height = "{z!r} m", side = "{F!r} N"}}' for z, F in self.points]
        return "\n".join(
            [
                "[[case]]",
                'name = "pushed"',
                'kind = "given"',
                *([f"line_load = [{', '.join(entries)}]"] if entries else []),
                *([f"point_load = [{', '.join(points)}]"] if points else []),
                *([f'axial = "{self.axial!r} N"'] if self.axial else []),
            ]
        )

    @property
    def result(self) -> CheckResult:
        return checked(self)

    def pushed(self, *, axial: float = 0.0, by: float = 1.0) -> Mast:
        """Return the same mast with its loads across it scaled and another thrust."""
        return replace(
            self,
            axial=axial,
            lines=tuple(replace(s, w0=s.w0 * by, w1=s.w1 * by) for s in self.lines),
            points=tuple((z, F * by) for z, F in self.points),
        )


@cache
def checked(mast: Mast) -> CheckResult:
    return check(read_rig(mast.text()))


def some(rng: np.random.Generator, low: float, high: float, digits: int = 6) -> float:
    return round(float(rng.uniform(low, high)), digits)


ALLOY = Alloy("alloy", 69.5e9, 26.1e9, 0.33, 2710.0)
STEEL = Alloy("steel", 200e9, 77e9, 0.29, 7900.0)


def random_mast(kind: str, seed: int) -> Mast:
    """Return a mast of a kind: even, tapered, stepped, or sleeved; loaded as a sail and some hands would.

    Parameters
    ----------
    kind : str
        ``even``, ``tapered``, ``stepped`` or ``sleeved``.
    seed : int
        Which.
    """
    rng = np.random.default_rng([seed, *kind.encode()])
    length = some(rng, 3.5, 12, 3)
    bury = round(length * some(rng, 0.07, 0.3), 3)
    d, t = some(rng, 0.07, 0.18), some(rng, 0.002, 0.006)
    sleeves: tuple[Piece, ...] = ()
    if kind == "even":
        tubes = (Piece(0.0, length, d, d, t, t, ALLOY),)
    elif kind == "tapered":
        middle = round(bury + (length - bury) * some(rng, 0.1, 0.5), 3)
        tip, thin = round(d * some(rng, 0.4, 0.9), 6), round(t * some(rng, 0.6, 1.0), 6)
        tubes = (Piece(0.0, middle, d, d, t, t, ALLOY), Piece(middle, length, d, tip, t, thin, ALLOY))
    else:
        # nested tubes: each goes on below its joint as the tail of the upper length inside the lower
        joints = [round(bury + (length - bury) * share, 3) for share in (0.3, 0.65)]
        sizes = [(d, t)]
        for _ in joints:
            outer, wall = sizes[-1]
            sizes.append((round(outer - 2 * wall - 2e-4, 9), some(rng, 0.0015, 0.004)))
        heights = [0.0, *joints, length]
        tubes = tuple(
            Piece(z0, z1, D, D, wall, wall, ALLOY)
            for (z0, z1), (D, wall) in zip(pairwise(heights), sizes, strict=True)
        )
        tails = [round(joint - 4 * size[0], 3) for joint, size in zip(joints, sizes[1:], strict=True)]
        sleeves = tuple(
            Piece(tail, joint, D, D, wall, wall, ALLOY)
            for tail, joint, (D, wall) in zip(tails, joints, sizes[1:], strict=True)
        )
        if kind == "sleeved":
            # one more, of steel, stiffens the foot where the mast is bent most
            inside, top = round(d - 2 * t, 9), round(bury + 0.5 * (tails[0] - bury), 3)
            stiff = Piece(round(bury * 0.3, 3), top, inside, inside, 0.003, 0.003, STEEL)
            sleeves = (stiff, *sleeves)
    tack = round(bury + some(rng, 0.2, 0.6), 3)
    head = round(length - some(rng, 0.1, 0.4), 3)
    lines = [Line(tack, head, some(rng, 40, 160, 3), some(rng, 0, 20, 3))]
    if rng.uniform() < 0.5:
        # wind on the bare foot, with a jump at the tack
        lines.insert(0, Line(bury, tack, some(rng, 5, 15, 3), some(rng, 5, 15, 3)))
    points = ((head, some(rng, -60, 250, 3)), (round(tack + 0.4, 3), some(rng, -400, 100, 3)))
    fittings = (some(rng, 0.2, 4, 3), round(length * some(rng, 0.7, 1.0), 3))
    return Mast(tubes, sleeves, bury, fittings, tuple(lines), points)


KINDS = ("even", "tapered", "stepped", "sleeved")


def left_of(coarse: float, fine: float, *, order: int, scale: float) -> tuple[float, float]:
    """Return what two meshes, one twice as fine, tend to, and how far off that may be.

    The error falls as ``h ** order``. Taking its first term away (Richardson) leaves the next, two orders up: a
    sixteenth of the difference of the meshes would be two meshes further. A fifth of the difference, over what the
    first term takes, covers it as long as the series converges at all, and rounding of the library is added.
    """
    step = (fine - coarse) / (2**order - 1)
    return fine + step, abs(step) / 5 + 1e-9 * abs(scale)
