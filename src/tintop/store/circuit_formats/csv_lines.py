"""Centre lines as tables of numbers: x, y, heights, widths; names and separators as people write them."""

import re
from collections.abc import Mapping

import numpy as np

from tintop.circuit.circuit import FloatArray, PitLane
from tintop.circuit.raw import RawCircuit, RawLine
from tintop.errors import refuse

# house name: what people write, lower case, without unit
NAMES: dict[str, tuple[str, ...]] = {
    "x": ("x", "easting", "east", "pos_x", "x_center", "x_centre", "center_x", "centre_x"),
    "y": ("y", "northing", "north", "pos_y", "y_center", "y_centre", "center_y", "centre_y"),
    "longitude": ("longitude", "lon", "long", "lng"),
    "latitude": ("latitude", "lat"),
    "z": ("z", "height", "elevation", "altitude", "ele", "alt", "pos_z"),
    "width": ("width", "w", "track_width", "total_width"),
    "width_left": ("width_left", "left_width", "w_left", "w_tr_left", "left", "wl", "w_l"),
    "width_right": ("width_right", "right_width", "w_right", "w_tr_right", "right", "wr", "w_r"),
    "banking_deg": ("banking_deg", "bank_deg"),
    "banking_rad": ("banking_rad", "bank_rad"),
}
FEET = 0.3048  # exact; international foot
MISSING = ("", "na", "n/a", "nan", "null", "none", "-")
WIDEST = 100.0  # [m]
FACTS = ("name", "length_m", "pit_entry_m", "pit_exit_m", "pit_length_m", "pit_speed_limit_kmh", "source")


def read(text: str, where: str, columns: Mapping[str, str] | None = None) -> RawCircuit:
    """Read a table with a header line (with or without '#') or two or three bare columns x, y, z.

    `columns` maps house names (x, y, z, longitude, latitude, width, width_left, width_right, banking_deg,
    banking_rad) to the file's own. Lines "# name: ..." and "# pit_entry_m: ..." carry facts. Decimal commas
    are read where the separator is a semicolon. Raises BadInput with the line.
    """
    facts: dict[str, str] = {}
    rows: list[tuple[int, str]] = []
    comments: list[tuple[int, str]] = []
    for number, line in enumerate(text.splitlines(), start=1):
        line = line.strip().lstrip("\ufeff")
        if not line:
            continue
        if line.startswith("#"):
            fact = re.match(r"#\s*([a-z_]+)\s*:\s*(.+)$", line)
            if fact and fact.group(1) in FACTS:
                facts[fact.group(1)] = fact.group(2).strip()
            elif not rows:
                comments.append((number, line.lstrip("# ").strip()))
            continue
        rows.append((number, line))
    if not rows:
        raise refuse(where, "no rows of numbers", "a table with columns x and y")
    separator = _separator(rows[0][1])
    header, rows = _header(rows, comments, separator, where)
    places, factors, unknown = _places(header, columns, where)
    table = _numbers(rows, separator, len(header), where)
    return _circuit(table, [number for number, _ in rows], places, factors, facts, unknown, where)


def _separator(line: str) -> str | None:
    for separator in (";", "\t"):
        if separator in line:
            return separator
    return "," if "," in line else None


def _cells(line: str, separator: str | None) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in line.split(separator)]


def _is_number(cell: str, separator: str | None) -> bool:
    try:
        float(cell.replace(",", ".") if separator == ";" else cell)
    except ValueError:
        return False
    return True


def _header(
    rows: list[tuple[int, str]], comments: list[tuple[int, str]], separator: str | None, where: str
) -> tuple[list[str], list[tuple[int, str]]]:
    first = _cells(rows[0][1], separator)
    if not all(_is_number(cell, separator) or cell.lower() in MISSING for cell in first):
        return first, rows[1:]
    for _, comment in reversed(comments):
        names = _cells(comment, _separator(comment))
        if len(names) == len(first) and not any(_is_number(name, separator) for name in names):
            return names, rows
    if len(first) in (2, 3):
        return ["x", "y", "z"][: len(first)], rows
    raise refuse(
        f"{where}, line {rows[0][0]}",
        f"{len(first)} columns without names",
        "a header line such as x_m,y_m,width_right_m,width_left_m",
    )


def _places(
    header: list[str], columns: Mapping[str, str] | None, where: str
) -> tuple[dict[str, int], dict[str, float], list[str]]:
    """Find the column of each house name and the factor to metres its unit asks for."""
    places: dict[str, int] = {}
    factors: dict[str, float] = {}
    chosen = dict(columns or {})
    for house, theirs in chosen.items():
        if house not in NAMES:
            raise refuse("columns", house, "one of " + ", ".join(NAMES))
        if theirs not in header:
            raise refuse(f"{where}, header", ", ".join(header)[:200], f"a column named {theirs} for {house}")
        places[house] = header.index(theirs)
        factors[house] = 1.0
    unknown: list[str] = []
    for place, name in enumerate(header):
        if place in places.values():
            continue
        plain = re.sub(r"[\s\-]+", "_", re.sub(r"[\[\](){}]", " ", name.lower()).strip())
        stem, factor = plain, 1.0
        for ending, value in (
            ("_m", 1.0),
            ("_metres", 1.0),
            ("_meters", 1.0),
            ("_ft", FEET),
            ("_feet", FEET),
        ):
            if plain.endswith(ending) and len(plain) > len(ending):
                stem, factor = plain.removesuffix(ending), value
                break
        house_names = [house for house, known in NAMES.items() if stem in known or plain in known]
        if not house_names:
            unknown.append(name)
            continue
        house = house_names[0]
        if house in places:
            if house not in chosen:
                raise refuse(
                    f"{where}, header", f"two columns for {house}: {header[places[house]]} and {name}", "one"
                )
            continue
        places[house], factors[house] = place, factor
    if not ({"x", "y"} <= places.keys() or {"longitude", "latitude"} <= places.keys()):
        raise refuse(
            f"{where}, header",
            ", ".join(header)[:200],
            "columns x and y, or longitude and latitude",
            "Say which columns they are.",
        )
    return places, factors, unknown


def _numbers(rows: list[tuple[int, str]], separator: str | None, count: int, where: str) -> FloatArray:
    table = np.empty((len(rows), count))
    for row, (number, line) in enumerate(rows):
        cells = _cells(line, separator)
        if len(cells) == count + 1 and cells[-1] == "":
            cells.pop()
        if len(cells) != count:
            raise refuse(f"{where}, line {number}", f"{len(cells)} values", f"{count} as in the header")
        for place, cell in enumerate(cells):
            if cell.lower() in MISSING:
                table[row, place] = np.nan
                continue
            try:
                table[row, place] = float(cell.replace(",", ".") if separator == ";" else cell)
            except ValueError:
                table[row, place] = np.inf  # judged only if the column is used
    return table


def _circuit(
    table: FloatArray,
    numbers: list[int],
    places: dict[str, int],
    factors: dict[str, float],
    facts: dict[str, str],
    unknown: list[str],
    where: str,
) -> RawCircuit:
    def column(house: str) -> FloatArray | None:
        if house not in places:
            return None
        values = table[:, places[house]] * factors[house]
        if np.any(np.isinf(values)):
            raise refuse(
                f"{where}, line {numbers[int(np.argmax(np.isinf(values)))]}",
                f"something that is not a number for {house}",
                "a number",
            )
        return np.asarray(values)

    is_geographic = "x" not in places
    first, second = (
        column("longitude" if is_geographic else "x"),
        column("latitude" if is_geographic else "y"),
    )
    assert first is not None and second is not None
    missing = ~(np.isfinite(first) & np.isfinite(second))
    if missing.any():
        raise refuse(
            f"{where}, line {numbers[int(np.argmax(missing))]}", "no position", "a number for x and y"
        )
    width, left, right = column("width"), column("width_left"), column("width_right")
    for side in (width, left, right):
        if side is not None:
            wrong = (side < 0.0) | (side > WIDEST)
            if wrong.any():
                bad = int(np.argmax(wrong))
                raise refuse(f"{where}, line {numbers[bad]}", f"a width of {side[bad]:g} m", "0 to 100 m")
    if width is not None and left is None and right is None:
        left = right = width / 2.0
    elif (left is None) != (right is None):
        raise refuse(f"{where}, header", "the width to one side only", "widths to the left and to the right")
    degrees, radians = column("banking_deg"), column("banking_rad")
    banking = np.radians(degrees) if degrees is not None else radians
    if banking is not None and np.any(np.abs(banking[np.isfinite(banking)]) > np.radians(45.0)):
        bad = int(np.argmax(np.abs(np.nan_to_num(banking)) > np.radians(45.0)))
        raise refuse(
            f"{where}, line {numbers[bad]}", f"{np.degrees(banking[bad]):.0f}° of banking", "within ±45°"
        )
    notes = (f"columns not used: {', '.join(unknown)[:200]}",) if unknown else ()
    return RawCircuit(
        lines=(
            RawLine(
                first=first,
                second=second,
                height=column("z"),
                width_left=left,
                width_right=right,
                banking=banking,
            ),
        ),
        is_geographic=is_geographic,
        name=facts.get("name", ""),
        published_length=_fact(facts, "length_m", where),
        pit_lane=_pit_lane(facts, where),
        source=facts.get("source", ""),
        notes=notes,
    )


def _fact(facts: dict[str, str], name: str, where: str) -> float | None:
    if name not in facts:
        return None
    try:
        value = float(facts[name])
    except ValueError:
        value = np.nan
    if not (np.isfinite(value) and value >= 0.0):
        raise refuse(f"{where}, '# {name}:'", facts[name][:60], "a number of zero or more")
    return value


def _pit_lane(facts: dict[str, str], where: str) -> PitLane | None:
    values = [
        _fact(facts, name, where)
        for name in ("pit_entry_m", "pit_exit_m", "pit_length_m", "pit_speed_limit_kmh")
    ]
    known = [value for value in values if value is not None]
    if not known:
        return None
    if len(known) < 4 or known[2] <= 0.0 or known[3] <= 0.0:
        raise refuse(
            f"{where}, pit lane",
            f"{len(known)} of its 4 facts, or a zero",
            "pit_entry_m, pit_exit_m, pit_length_m and pit_speed_limit_kmh",
        )
    return PitLane(entry=known[0], exit=known[1], length=known[2], speed_limit=known[3] / 3.6)
