"""Files made to hurt a reader: too deep, too long, too many, or not text at all.

Each is a few kilobytes up to the two megabytes that a rig file may have, and must be answered or refused without a
traceback and in no more than a moment.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable
from typing import Any

from rigcalc.rigfile import starter_text
from tests.rigfile import toml_of

Change = Callable[[dict[str, Any], int], None]

RAW: dict[str, bytes] = {
    "nothing": b"",
    "blanks": b" \n\t\r\n" * 1000,
    "nul": b"\x00",
    "nuls": b"\x00" * 10_000,
    "byte order mark": b"\xef\xbb\xbf",
    "two byte order marks": b"\xef\xbb\xbf\xef\xbb\xbf" + starter_text().encode(),
    "utf-16": starter_text().encode("utf-16"),
    "utf-32": starter_text().encode("utf-32"),
    "latin-1": 'title = "Bö"'.encode("latin-1"),
    "half a letter": starter_text().encode() + b"\xc3",
    "surrogates": b'title = "\xed\xa0\x80"',
    "old line ends": starter_text().replace("\n", "\r").encode(),
    "gzip": b"\x1f\x8b\x08\x00" + bytes(range(256)),
    "lists in lists": b"a = " + b"[" * 100_000 + b"]" * 100_000,
    "lists without end": b"a = " + b"[" * 900_000,
    "tables in tables": b"a = " + b"{a = " * 50_000 + b"1" + b"}" * 50_000,
    "a long dotted key": b"a" + b".a" * 100_000 + b" = 1",
    "a long dotted table": b"[a" + b".a" * 100_000 + b"]\nb = 1",
    "many dotted keys": b"\n".join(b"a.b%d.c.d = 1" % i for i in range(50_000)),
    "many tables": b"\n".join(b"[t%d]" % i for i in range(100_000)),
    "many list tables": b"[[case]]\n" * 100_000,
    "many keys": b"\n".join(b"k%d = 1" % i for i in range(100_000)),
    "many slips of one key": b"\n".join(b"tittle%d = 1" % i for i in range(90_000)),
    "one key twice": b'title = "a"\n' * 2,
    "a table twice": b"[mast]\n" * 2,
    "an endless text": b'title = "' + b"a" * 1_900_000 + b'"',
    "an endless text of quotes": b'title = """' + b'\\"' * 900_000 + b'"""',
    "a text without an end": b'title = """' + b"a" * 1_900_000,
    "an endless key": b"a" * 1_900_000 + b" = 1",
    "an endless comment": b"#" * 1_900_000,
    "an endless line of escapes": b'title = "' + b"\\u0041" * 300_000 + b'"',
    "an endless whole number": b"title = " + b"9" * 1_900_000,
    "an endless hexadecimal": b"title = 0x" + b"f" * 1_900_000,
    "an endless binary": b"title = 0b" + b"1" * 1_900_000,
    "an endless float": b"title = 0." + b"9" * 1_900_000,
    "an endless exponent": b"title = 1e" + b"9" * 1_900_000,
    "an endless date": b"title = 2026-01-01T00:00:00." + b"9" * 1_900_000,
    "a year of none": b"title = 0000-00-00",
    "too large": b"#" * 2_000_001,
}
"""Name -> bytes that are no rig."""


def _put(where: str, value: Any) -> Change:
    def change(table: dict[str, Any], _: int) -> None:
        *way, key = where.split(".")
        for step in way:
            table = table.setdefault(step, {})
        table[key] = value

    return change


def _walls(wall: str) -> Change:
    return _put("mast.stations", [{"height": h, "diameter": "90 mm", "wall": wall} for h in ("0 m", "5.6 m")])


def _stations(table: dict[str, Any], n: int) -> None:
    one = {"diameter": "88.9 mm", "wall": "3 mm"}
    table["mast"]["stations"] = [{"height": f"{5.6 * i / (n - 1):.9g} m", **one} for i in range(n)]


def _like_stations(table: dict[str, Any], n: int) -> None:
    ends = table["mast"]["stations"]
    table["mast"]["stations"] = [ends[0]] * n + [ends[1]]


def _bad_stations(table: dict[str, Any], n: int) -> None:
    table["mast"]["stations"] = [{"height": "x", "diametre": 3, "wall": "3"}] * n


def _cases(kind: str, **more: Any) -> Change:
    def change(table: dict[str, Any], n: int) -> None:
        table["case"] = [{"name": f"c{i}", "kind": kind, **more} for i in range(n)]

    return change


def _line(table: dict[str, Any], n: int) -> None:
    line = [[f"{5.6 * i / (n - 1):.9g} m", f"{i % 7} N/m"] for i in range(n)]
    table["case"] = [{"name": "g", "kind": "given", "line_load": line}]


def _points(table: dict[str, Any], n: int) -> None:
    points = [{"height": f"{5.6 * i / (n - 1):.9g} m", "side": "1 N"} for i in range(n)]
    table["case"] = [{"name": "g", "kind": "given", "point_load": points}]


def _arms(table: dict[str, Any], n: int) -> None:
    table["boat"]["stability"]["righting_arm"] = [
        [f"{170 * i / (n - 1):.9g} deg", f"{0.3 * math.sin(math.pi * i / n):.9g} m"] for i in range(n)
    ]


def _sails(table: dict[str, Any], n: int) -> None:
    table["sail"] = [{**table["sail"][0], "name": f"s{i}"} for i in range(n)]


def _corners(table: dict[str, Any], n: int) -> None:
    turns = [2 * math.pi * i / n for i in range(n)]
    corners = [[f"{-1 + math.cos(a):.9g} m", f"{3.2 + 2 * math.sin(a):.9g} m"] for a in turns]
    table["sail"] = [{"name": "round", "corners": corners}]


def _comb(table: dict[str, Any], n: int) -> None:
    corners = [[f"{-1 - i % 2} m", f"{1.5 + 3 * i / n:.9g} m"] for i in range(n)]
    table["sail"] = [{"name": "comb", "corners": [["0 m", "1.5 m"], *corners, ["0 m", "4.5 m"]]}]


def _along(key: str, **more: Any) -> Change:
    def change(table: dict[str, Any], n: int) -> None:
        table["mast"][key] = [{"height": f"{0.9 + 4 * i / n:.9g} m", **more} for i in range(n)]

    return change


def _stretches(key: str, **more: Any) -> Change:
    def change(table: dict[str, Any], n: int) -> None:
        table["mast"][key] = [
            {"start": f"{5.6 * i / n:.9g} m", "end": f"{5.6 * (i + 0.9) / n:.9g} m", **more} for i in range(n)
        ]

    return change


def _parrels(table: dict[str, Any], n: int) -> None:
    heights = [f"{1.15 + 4.3 * i / (n - 1):.9g} m" for i in range(n)]
    table["sail"][0] |= {"parrel_heights": heights, "load_path": "luff"}


def _states(table: dict[str, Any], n: int) -> None:
    table["state"] = [{"name": f"s{i}", "set": {"main": 1.0}} for i in range(n)]


def _shares(table: dict[str, Any], n: int) -> None:
    table["state"] = [{"name": "all", "set": {f"s{i}": 1.0 for i in range(n)}}]


def _turns(table: dict[str, Any], n: int) -> None:
    table["mast"] |= {"shape": "box", "turns": [f"{5 * i % 360 - 180} deg" for i in range(n)]}


def _plies(table: dict[str, Any], n: int) -> None:
    ply = {"material": "E-glass/epoxy UD 0.55", "thickness": "0.02 mm"}
    table["laminate"] = [
        {"name": "wall", "plies": [{**ply, "angle": f"{90 * (i % 2)} deg"} for i in range(n)]}
    ]


def _tubes(table: dict[str, Any], n: int) -> None:
    table["stock"] = {"tube": [{"diameter": f"{50 + i / 100} mm", "wall": "3 mm"} for i in range(n)]}


def _materials(table: dict[str, Any], n: int) -> None:
    strengths = {"E": "70 GPa", "G": "26 GPa", "nu": 0.33, "density": "2700 kg/m3", "proof": "200 MPa"}
    one = {"family": "metal", **strengths, "ultimate": "250 MPa", "source": "invented"}
    table["material"] = [{"name": f"m{i}", **one} for i in range(n)]


MANY: dict[str, Change] = {
    "stations": _stations,
    "stations at one height": _like_stations,
    "stations that are wrong": _bad_stations,
    "bare cases": _cases("bare", wind_speed="20 m/s"),
    "heel-limited cases": _cases("heel-limited"),
    "wind-limited cases": _cases("wind-limited", wind_speed="10 m/s"),
    "cases without a kind": _cases("none"),
    "a line load": _line,
    "point loads": _points,
    "righting arms": _arms,
    "sails": _sails,
    "corners of a round sail": _corners,
    "corners of a comb": _comb,
    "openings": _along("opening", width="5 mm"),
    "welds": _along("weld"),
    "sleeves": _stretches("sleeve", diameter="82.9 mm", wall="2 mm"),
    "plugs": _stretches("plug", material="C24"),
    "parrels": _parrels,
    "states": _states,
    "shares of one state": _shares,
    "angles": _turns,
    "plies": _plies,
    "tubes": _tubes,
    "materials": _materials,
}
"""Name -> what puts very many of something in the starter."""

ONE: dict[str, Change] = {
    "a quantity of a million digits": _put("mast.length", "9" * 1_000_000 + " m"),
    "a quantity of a million blanks": _put("mast.length", "5" + " " * 1_000_000 + "m"),
    "a unit of a million letters": _put("mast.length", "5 " + "m" * 1_000_000),
    "a fraction of a million digits": _put("mast.length", "1/" + "9" * 1_000_000 + " m"),
    "feet of a million digits": _put("mast.length", "1" * 1_000_000 + " ft 3 in"),
    "thousands of thousands": _put("mast.length", "1 " + "000 " * 100_000 + "m"),
    "commas": _put("mast.length", "1," * 500_000 + "1 m"),
    "a choice of a million letters": _put("mast.shape", "r" * 1_000_000),
    "a material of a million letters": _put("mast.material", "6" * 1_000_000),
    "a state of a million letters": _put("case", [{"name": "a", "kind": "bare", "state": "s" * 1_000_000}]),
    "a list as deep as it is read": _put("mast.length", [[[[[[[[[["5 m"]]]]]]]]]]),
    "a wall of nothing": _walls("0 mm"),
    "a wall as thick as the radius": _walls("45 mm"),
    "a wall thicker than the radius": _walls("50 mm"),
    "a mast of a millimetre": _put("mast.length", "1 mm"),
    "a mast of a kilometre": _put("mast.length", "1 km"),
    "a mast of a thousand metres": _put("mast.length", "1000 m"),
    "a mast of 1e308 m": _put("mast.length", "1e308 m"),
    "a bury above the tip": _put("mast.bury", "6 m"),
    "a bury of next to nothing": _put("mast.bury", "1e-300 m"),
}  # fmt: skip
"""Name -> what puts one thing in the starter that no rig has."""

COUNTS = (2, 3, 20, 10_000)


def made(change: Change, count: int = 0) -> bytes:
    """Return the starter with a change."""
    table = tomllib.loads(starter_text())
    change(table, count)
    return toml_of(table).encode("utf-8", "surrogatepass")
