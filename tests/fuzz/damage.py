"""Damage to the text of a good file, as an editor, a copy or a slip of the hand does it."""

from __future__ import annotations

import re
from random import Random

from .values import NUMBERS, UNITS

NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?")
UNIT = re.compile(r'(?<=[0-9] )[A-Za-z%][A-Za-z0-9/ ]*(?=")')
FACTORS = (
    -1.0,
    0.0,
    0.01,
    0.1,
    0.5,
    0.8,
    0.9,
    0.97,
    0.99,
    1.001,
    1.03,
    1.1,
    1.25,
    2.0,
    3.0,
    10.0,
    1e3,
    1e9,
    1e300,
)
CONFUSABLE = {"a": "а", "e": "е", "o": "ο", "m": "ｍ", "1": "１", "0": "О", "-": "−", '"': "“", "=": "＝", ".": "．",
              " ": "\u00a0", "[": "［", "2": "²", "k": "K", "N": "Ν"}  # fmt: skip
KEEPS = ("number", "number", "number", "number", "delete", "double", "swap", "crlf", "bom", "unit")
"""Ways that often leave a file that can be read."""
ROUGH = ("truncate", "bytes", "confuse", "nul", "odd number", "cut", "odd unit", "quote", "splice")


def damaged(text: str, rng: Random, other: str = "") -> bytes:
    """Return a text after one to four blows; `other` lends lines to be spliced in."""
    raw = text
    for _ in range(rng.choice((1, 1, 1, 2, 3, 4))):
        raw = _blow(raw, rng, other or text)
    data = raw.encode("utf-8", "surrogatepass")
    if rng.random() < 0.06:
        at = rng.randrange(len(data) + 1)
        data = data[:at] + rng.randbytes(rng.choice((1, 2, 40))) + data[at:]
    return data


def _blow(text: str, rng: Random, other: str) -> str:
    way = rng.choice(KEEPS) if rng.random() < 0.65 else rng.choice(ROUGH)
    lines = text.split("\n")
    at, to = rng.randrange(len(lines)), rng.randrange(len(lines))
    place = rng.randrange(len(text) + 1)
    match way:
        case "number":
            return _replaced(
                text, NUMBER, lambda old: f"{_scaled(float(old), rng):.{rng.choice((3, 17))}g}", rng
            )
        case "odd number":
            return _replaced(text, NUMBER, lambda _: rng.choice((*NUMBERS, "9" * 5000)), rng)
        case "unit":
            return _replaced(text, UNIT, lambda _: rng.choice(UNITS[:28]), rng)
        case "odd unit":
            return _replaced(text, UNIT, lambda _: rng.choice(UNITS), rng)
        case "delete":
            del lines[at : at + rng.choice((1, 1, 1, 3, 8))]
        case "double":
            lines[at:at] = lines[at : at + rng.choice((1, 1, 4))]
        case "swap":
            lines[at], lines[to] = lines[to], lines[at]
        case "splice":
            lines[at:at] = other.split("\n")[to : to + rng.choice((1, 3, 12))]
        case "crlf":
            return text.replace("\n", "\r\n")
        case "bom":
            return "\ufeff" + text
        case "truncate":
            return text[:place]
        case "cut":
            return text[:place] + text[place + rng.choice((1, 1, 2, 9)) :]
        case "nul":
            return text[:place] + "\x00" + text[place:]
        case "bytes":
            odd = "".join(
                chr(rng.choice((rng.randrange(0x20, 0x7F), rng.randrange(0xD800)))) for _ in range(3)
            )
            return text[:place] + odd + text[place:]
        case "quote":
            return (
                text[:place] + rng.choice(('"', "'", "[", "]", "{", "}", "#", "=", ",", '"""')) + text[place:]
            )
        case "confuse":
            letter = rng.choice(tuple(CONFUSABLE))
            return text.replace(letter, CONFUSABLE[letter], rng.choice((1, 3, -1)))
    return "\n".join(lines)


def _scaled(number: float, rng: Random) -> float:
    return number * rng.choice(FACTORS)


def _replaced(text: str, what: re.Pattern[str], new: object, rng: Random) -> str:
    """Return the text with one of what is found put anew."""
    found = list(what.finditer(text))
    if not found:
        return text
    match = rng.choice(found)
    assert callable(new)
    return text[: match.start()] + str(new(match[0])) + text[match.end() :]
