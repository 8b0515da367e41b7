"""The rig as one file describes it: frozen, in SI, with every field described for the reader."""

from __future__ import annotations

from ..frozen import dataclass
from .bearings import Bearings, Deck, Furling
from .cases import Case, Limits
from .doubt import Doubts
from .fatigue import Fatigue
from .fields import Table, Tables, Text, described
from .hull import Boat, Wind
from .laminate import Laminate
from .materials import Material
from .sails import Sail, State
from .sizing import Sizing
from .spar import Mast
from .stock import Stock
from .timber import TimberUse


@dataclass(frozen=True, kw_only=True)
class Rig:
    """Boat, sails and mast as one file describes them."""

    title: str = described(Text("Name of the project."))
    boat: Boat = described(Table("The hull.", of=Boat))
    wind: Wind = described(Table("The air.", of=Wind), default=Wind())
    mast: Mast = described(Table("The spar.", of=Mast))
    timber: TimberUse = described(Table("How timber is kept and loaded.", of=TimberUse), default=TimberUse())
    sails: tuple[Sail, ...] = described(Tables("The sails.", of=Sail, key="sail", most=20), default=())
    states: tuple[State, ...] = described(Tables("Settings of the sails.", of=State, key="state"), default=())
    bearings: Bearings = described(Table("Partners and step.", of=Bearings), default=Bearings())
    furling: Furling | None = described(
        Table("Drum and line; the effort of furling is not worked out without it.", of=Furling), default=None
    )
    deck: Deck | None = described(
        Table("What the partners are fastened to; not looked at without it.", of=Deck), default=None
    )
    cases: tuple[Case, ...] = described(
        Tables("Loadings; a standard set when none is given.", of=Case, key="case", most=60), default=()
    )
    limits: Limits = described(Table("Factors and limits.", of=Limits), default=Limits())
    fatigue: Fatigue | None = described(
        Table(
            "How often the mast is loaded in its life; fatigue is not looked at when not given.", of=Fatigue
        ),
        default=None,
    )
    stock: Stock | None = described(
        Table("What can be bought and carried; the same with every default when not given.", of=Stock),
        default=None,
    )
    sizing: Sizing | None = described(
        Table(
            "What `rigcalc size` and `rigcalc compare` may change; every default when not given.",
            of=Sizing,
            key="size",
        ),
        default=None,
    )
    doubt: Doubts | None = described(
        Table("Spreads for `rigcalc doubt`; every default when not given.", of=Doubts), default=None
    )
    materials: tuple[Material, ...] = described(
        Tables("Materials of your own.", of=Material, key="material"), default=()
    )
    laminates: tuple[Laminate, ...] = described(
        Tables("Walls and sheaths of fibre and resin.", of=Laminate, key="laminate"), default=()
    )
    defaults: tuple[str, ...] = ()
    """Paths of the fields that the file left to their defaults."""

    def __repr__(self) -> str:
        sails = "1 sail" if len(self.sails) == 1 else f"{len(self.sails)} sails"
        return f"<Rig {self.title!r}: {self.mast.length_m:.2f} m mast of {self.mast.material}, {sails}>"
