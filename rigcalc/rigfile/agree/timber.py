"""Rules for timber: what is read beside which wood, and what a mast of wood or a plug in it may have."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from ...errors import Problem
from ...materials import MaterialError, family_of, own_timber
from ...materials.timber import Own, find_timber, keys_not_read, timber_names, timber_of_rig
from ...rig import TimberUse
from ...rig.fields import described_fields
from ...rig.materials import FOAM, METAL, TIMBER
from ..loose import Loose
from .materials import LAMINATE, UNREAD, built, families, family, is_timber, names_of
from .say import HAIR

_NO_TIMBER = "timber, and there is none in this rig"


def own_timbers(materials: Sequence[Loose]) -> Own:
    """Return what finds the rows of the user's own timbers; those that could not be read are left out."""
    found = (built(m) for m in materials if m.get("family") == TIMBER)
    rows = {m.name: own_timber(m) for m in found if m is not None}
    return rows.get


def timber_not_read(rig: Loose) -> dict[str, str]:
    """Return path -> what would read it, for what timber does not read and what nothing else does."""
    mast, materials = rig.get("mast"), rig.get("materials", ())
    if mast is None or not mast.has("material"):
        return {}
    own, laid, names = (
        own_timbers(materials),
        names_of(rig.get("laminates", ())),
        [n for _, n in _named(mast)],
    )
    try:
        made = [family_of(name, own=families(materials), laminates=laid) for name in names]
        timbers = [
            find_timber(name, own) for name, family in zip(names, made, strict=True) if family == TIMBER
        ]
    except MaterialError:
        return {}  # a name that is no material, or a timber that could not be read: that problem comes first
    if UNREAD in made:
        return {}
    unread = {} if timbers else dict.fromkeys(described_fields(TimberUse), _NO_TIMBER)
    if timbers:
        unread = {
            key: f"{reads}, and there is none in this rig" for key, reads in keys_not_read(timbers).items()
        }
    paths = {f"timber.{key}": reads for key, reads in unread.items()}
    if made[0] in (TIMBER, LAMINATE):
        paths["mast.wall_loss"] = "a mast of metal"
    if made[0] == METAL and rig.has("bearings"):
        reads = "a mast of timber or laminate, or a bearing whose kind is given"
        for at, height_m in (("partners", mast.get("bury_m", math.nan)), ("step", 0.0)):
            kind = rig.bearings[at].get("kind", "broken") if rig.bearings.has(at) else "broken"
            if kind is None and not _sheathed(mast, height_m):
                paths[f"bearings.{at}.length"] = reads
    if METAL not in made:
        paths |= {f"limits.{factor}": "metal" for factor in ("yield_factor", "rupture_factor")}
        if rig.get("fatigue") is not None:
            paths["fatigue"] = "metal, and there is none in this rig"
    return paths


def _sheathed(mast: Loose, height_m: float) -> bool:
    """Whether a sheath lies over the mast at a height, and is what a bearing presses on there."""
    return any(
        sheath.has("start_m", "end_m", "side")
        and sheath.side == "over"
        and sheath.start_m <= height_m <= sheath.end_m
        for sheath in mast.get("sheath", ())
    )


def timber_rules(rig: Loose) -> Iterator[Problem]:
    """Yield what is wrong with a mast of timber, and with plugs."""
    mast = rig.get("mast")
    if mast is None or not mast.has("material", "length_m", "bury_m", "shape"):
        return
    materials = rig.get("materials", ())
    for s in mast.get("sleeve", ()):
        if s.has("material") and is_timber(s.material or mast.material, materials):
            yield Problem(
                f"{s.path}.material",
                f'"{s.material or mast.material}"',
                "a sleeve is a tube of metal",
                "Name a metal; a tube of wood inside another is a [[mast.plug]] or a thicker wall.",
            )
    if is_timber(mast.material, materials):
        yield from _metal_only(mast)
    yield from _plugs(mast, materials, names_of(rig.get("laminates", ())))
    if rig.has("timber"):
        yield from _designs(rig, mast, own_timbers(materials))


def _named(mast: Loose) -> list[tuple[str, str]]:
    """Return path and name of every material in the mast."""
    named = [("mast.material", mast.material)]
    for part in (*mast.get("sleeve", ()), *mast.get("plug", ())):
        if part.get("material") is not None:
            named.append((f"{part.path}.material", part.material))
    post = mast.get("post")
    if post is not None and post.get("material") is not None:
        named.append(("mast.post.material", post.material))
    return named


def _metal_only(mast: Loose) -> Iterator[Problem]:
    for key, given in (
        ("weld", bool(mast.get("weld"))),
        ("opening", bool(mast.get("opening"))),
    ):
        if given:
            yield Problem(
                f"mast.{key}",
                "",
                "it belongs to metal: what it costs a mast of wood is not known here",
                "Take it out, and have it worked out by other means.",
            )


def _plugs(mast: Loose, materials: Sequence[Loose], laid: Sequence[str]) -> Iterator[Problem]:
    plugs = mast.get("plug", ())
    no_wood = family(mast.material, materials, laid) not in (TIMBER, UNREAD, None)
    for i, plug in enumerate(plugs):
        name = plug.get("material")
        if name is None and no_wood:
            yield Problem(
                f"{plug.path}.material",
                "",
                "a plug has the mast's own material where it names none, and that is no timber",
                'Name its timber: material = "C24", say.',
            )
        elif name is not None and family(name, materials) not in (TIMBER, FOAM, UNREAD):
            yield Problem(
                f"{plug.path}.material",
                f'"{name}"',
                "a plug is of timber, or of a foam of your own",
                "Name a timber, or a [[material]] of family foam.",
            )
        if plug.get("tail_m") and name is not None and family(name, materials) == FOAM:
            yield Problem(
                f"{plug.path}.tail",
                f"{plug.tail_m:.4g} m",
                "a core of foam is too soft to need one",
                "Take it out: it belongs to a plug of wood.",
            )
        if not plug.has("start_m", "end_m"):
            continue
        if plug.start_m >= plug.end_m:
            yield Problem(
                f"{plug.path}.start",
                f"{plug.start_m:.4g} m",
                f"it must be below its end, {plug.end_m:.4g} m",
                "Write the lower end of the plug as start.",
            )
            continue
        if plug.end_m > mast.length_m * (1 + HAIR):
            yield Problem(
                f"{plug.path}.end",
                f"{plug.end_m:.4g} m",
                f"the mast ends at {mast.length_m:.4g} m",
                "A plug lies in the mast, tail and all.",
            )
        if _meets_wood(mast, plug):
            yield Problem(
                f"{plug.path}.start",
                f"{plug.start_m:.4g} m",
                "the mast has no bore to fill on some of this stretch",
                "Give the stations there a wall, or end the plug where the bore ends.",
            )
        if mast.get("support") == "post" and plug.start_m < mast.bury_m:
            yield Problem(
                f"{plug.path}.start",
                f"{plug.start_m:.4g} m",
                f"the post stands in the bore up to {mast.bury_m:.4g} m",
                "Begin the plug above the post.",
            )
        for other in (*plugs[:i], *_inside(mast)):
            if other.has("start_m", "end_m") and plug.start_m < other.end_m and other.start_m < plug.end_m:
                yield Problem(
                    f"{plug.path}.start",
                    f"{plug.start_m:.4g} m",
                    f"{other.path} is in the bore from {other.start_m:.4g} to {other.end_m:.4g} m",
                    "One thing fills the bore at a height.",
                )


def _inside(mast: Loose) -> list[Loose]:
    """Return the sleeves that lie in the mast's bore."""
    diameters = [s.diameter_m for s in mast.get("stations", ()) if s.get("diameter_m") is not None]
    return [
        s
        for s in mast.get("sleeve", ())
        if s.has("diameter_m") and diameters and s.diameter_m < max(diameters)
    ]


def _meets_wood(mast: Loose, plug: Loose) -> bool:
    """Whether the mast is solid somewhere along a plug."""
    stations = mast.get("stations", ())
    if not all(s.has("height_m", "wall_m") and s.get("bore_m") is None for s in stations):
        return False
    return any(
        low.wall_m is None or high.wall_m is None
        for low, high in pairwise(stations)
        if low.height_m < plug.end_m and plug.start_m < high.height_m
    )


def _designs(rig: Loose, mast: Loose, own: Own) -> Iterator[Problem]:
    """Yield what the data do not hold for together, such as wood both hot and wet."""
    fields = {entry.name for entry in described_fields(TimberUse).values()}
    if not rig.timber.has(*fields):
        return
    use = TimberUse(**{name: rig.timber[name] for name in fields})
    given = (s.get("diameter_m") or s.get("bore_m") for s in mast.get("stations", ()))
    sizes = [size for size in given if size is not None]
    for path, name in _named(mast):
        row = own(name)
        if not sizes or (row is None and name not in timber_names()):
            continue
        try:
            timber_of_rig(
                name,
                use,
                shape="round",
                solid=False,
                depth_m=max(sizes),
                length_m=mast.length_m,
                bury_m=mast.bury_m,
                own=own,
            )
        except MaterialError as error:
            yield Problem(path, f'"{error.name}"', error.problem, error.remedy)
