"""Text typed into a field of a known unit, read as a number, a list, or a list of places."""

import re

from tintop.errors import BadInput, Problem, refuse
from tintop.units import parse_quantity
from tintop.web.formats import MINUS

_LONGEST = 40
_MOST = 200
_BARE = re.compile(r"[+\-]?[0-9.,]+(?:[eE][+\-]?[0-9]+)?")
_ONE = r"[+\-]?[0-9.,]+(?:e[+\-]?[0-9]+)?\s*[^\s0-9+\-.,;]*"


def value_typed(text: str, quantity: str, unit: str, where: str) -> float:
    """Read a number as one of the field's unit, or with a unit of its own; in SI.

    Raises BadInput naming `where`.
    """
    plain = text.strip().replace(MINUS, "-")
    written = f"{plain} {unit}" if unit and _BARE.fullmatch(plain) else plain
    if len(written) > _LONGEST:
        raise BadInput(Problem(where=where, found=f"{written[:_LONGEST]}…", expected="a number"))
    return parse_quantity(written, quantity, where)


def lengths_typed(text: str, unit: str, where: str) -> tuple[float, ...]:
    """Read lengths with spaces, semicolons or new lines between them [m]; none for an empty text.

    Raises BadInput naming `where`.
    """
    return tuple(value_typed(one, "length", unit, where) for one in _parts(text, where))


def places_typed(text: str, unit: str, where: str) -> tuple[tuple[float, float], ...]:
    """Read places, one a line or with semicolons between them, each two lengths [m].

    Raises BadInput naming `where` and the line.
    """
    lines = [each.strip() for each in re.split(r"[;\n]", text) if each.strip()]
    if len(lines) > _MOST:
        raise refuse(where, f"{len(lines)} places", f"at most {_MOST}")
    found = []
    for number, each in enumerate(lines, start=1):
        two = _parts(each, where)
        if len(two) != 2:
            raise refuse(
                where,
                f"{each[:_LONGEST]!r} in line {number}",
                'two lengths with a space between them, such as "120 80"',
            )
        found.append((value_typed(two[0], "length", unit, where), value_typed(two[1], "length", unit, where)))
    return tuple(found)


def _parts(text: str, where: str) -> list[str]:
    plain = re.sub(r",(?=\s|$)", " ", text.replace(MINUS, "-").replace(";", " ")).strip()
    parts = re.findall(_ONE, plain)
    if re.sub(r"\s", "", "".join(parts)) != re.sub(r"\s", "", plain):
        raise refuse(where, repr(plain[:_LONGEST]), 'numbers with spaces between them, such as "30 170"')
    if len(parts) > 2 * _MOST:
        raise refuse(where, f"{len(parts)} numbers", f"at most {2 * _MOST}")
    return parts
