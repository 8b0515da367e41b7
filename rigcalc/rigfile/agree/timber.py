"""Rules for timber: what is read beside which wood, and what a mast of wood or a plug in it may have."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from ...errors import Problem
from ...materials import MaterialError, metal_names
from ...materials.timber import (
    Own,
    find_timber,
    is_timber,
    keys_not_read,
    no_own,
    timber_names,
    timber_of_rig,
)
from ...rig import TimberUse
from ...rig.fields import described_fields
from ..loose import Loose
from .say import HAIR

_NO_TIMBER = "timber, and there is none in this rig"


def own_timber(materials: Sequence[Loose]) -> Own:
    """Return what finds the user's own timbers among his materials."""
    return no_own


def no_such_material(error: MaterialError, own: Iterable[str]) -> MaterialError:
    """Return what to say of a name that is no metal: it may be a slip for a timber, or for one of the user's."""
    if error.name in metal_names() or error.remedy.startswith("Did you mean"):
        return error
    near = difflib.get_close_matches(error.name, [*own, *timber_names()], n=1)
    remedy = (
        f"Did you mean '{near[0]}'?"
        if near
        else "`rigcalc materials` lists what there is; your own stands in a [[material]] table."
    )
    return MaterialError(error.name, "there is no material of this name", remedy)


def timber_not_read(rig: Loose) -> dict[str, str]:
    """Return path -> what would read it, for what timber does not read and what nothing else does."""
    mast, materials = rig.get("mast"), rig.get("materials", ())
    if mast is None or not mast.has("material"):
        return {}
    own = own_timber(materials)
    names = [name for _, name in _named(mast)]
    laid = {laminate.name for laminate in rig.get("laminates", ()) if laminate.has("name")}
    known = {*metal_names(), *(m.name for m in materials if m.has("name")), *laid}
    if any(name not in known and not is_timber(name, own) for name in names):
        return {}  # a name that is no material may have been meant for one
    timbers = [find_timber(name, own) for name in names if is_timber(name, own)]
    unread = {} if timbers else dict.fromkeys(described_fields(TimberUse), _NO_TIMBER)
    if timbers:
        unread = {
            key: f"{reads}, and there is none in this rig" for key, reads in keys_not_read(timbers).items()
        }
    paths = {f"timber.{key}": reads for key, reads in unread.items()}
    if is_timber(mast.material, own) or mast.material in laid:
        paths["mast.wall_loss"] = "a mast of metal"
    else:
        paths |= {f"bearings.{at}.length": "a mast of timber or laminate" for at in ("partners", "step")}
    if all(name in laid or is_timber(name, own) for name in names):
        paths |= {f"limits.{factor}": "metal" for factor in ("yield_factor", "rupture_factor")}
        if rig.get("fatigue") is not None:
            paths["fatigue"] = "metal, and there is none in this rig"
    return paths


def timber_rules(rig: Loose) -> Iterator[Problem]:
    """Yield what is wrong with a mast of timber, and with plugs."""
    mast = rig.get("mast")
    if mast is None or not mast.has("material", "length_m", "bury_m", "shape"):
        return
    own = own_timber(rig.get("materials", ()))
    for s in mast.get("sleeve", ()):
        if s.has("material") and is_timber(s.material or mast.material, own):
            yield Problem(
                f"{s.path}.material",
                f'"{s.material or mast.material}"',
                "a sleeve is a tube of metal",
                "Name a metal; a tube of wood inside another is a [[mast.plug]] or a thicker wall.",
            )
    if is_timber(mast.material, own):
        yield from _metal_only(mast)
    others = {
        *metal_names(),
        *(m.get("name") for m in (*rig.get("materials", ()), *rig.get("laminates", ()))),
    }
    yield from _plugs(mast, own, mast.material in others)
    if rig.has("timber"):
        yield from _designs(rig, mast, own)


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


def _plugs(mast: Loose, own: Own, no_wood: bool) -> Iterator[Problem]:
    plugs = mast.get("plug", ())
    for i, plug in enumerate(plugs):
        name = plug.get("material")
        if name is None and no_wood:
            yield Problem(
                f"{plug.path}.material",
                "",
                "a plug has the mast's own material where it names none, and that is no timber",
                'Name its timber: material = "C24", say.',
            )
        elif name is not None and not is_timber(name, own):
            yield Problem(f"{plug.path}.material", f'"{name}"', "a plug is of timber", "Name a timber.")
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
        if not is_timber(name, own) or not sizes:
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
