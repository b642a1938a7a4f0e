"""Ways people write on a run sheet and what each means, in pint's units; the table of docs/handwriting.md."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from tintop.errors import BadInput
from tintop.handwriting import (
    Ask,
    Row,
    Understood,
    read_corners,
    read_date,
    read_lap_time,
    read_temperatures_across,
    read_value,
)
from tintop.handwriting.fields import FIELDS, spelled

PAGE = Path(__file__).parents[1] / "docs" / "handwriting.md"
TODAY = date(2026, 5, 14)
SURE, GUESSED, ASKED, REFUSED = "sure", "guessed", "asked", "refused"


@dataclass(frozen=True)
class Case:
    """One note: the field, what is written, how it is taken, what it means, what is known beforehand."""

    field: str
    written: str
    taken: str
    meant: tuple[str, ...] = ()
    told: dict[str, object] = field(default_factory=dict)

    def read(self) -> object:
        """Give what tintop reads, or the refusal."""
        try:
            if self.field == "lap time":
                return read_lap_time(self.written, **self.told)  # type: ignore[arg-type]
            if self.field == "date":
                return read_date(self.written, TODAY, **self.told)  # type: ignore[arg-type]
            if self.field == "temperatures across a tread":
                return read_temperatures_across(self.written, **self.told)  # type: ignore[arg-type]
            if self.field.endswith(", four corners"):
                name = self.field.removesuffix(", four corners")
                return read_corners(self.written, name, **self.told)  # type: ignore[arg-type]
            return read_value(self.written, self.field, **self.told)  # type: ignore[arg-type]
        except BadInput as refusal:
            return refusal


def _case(field: str, written: str, taken: str, *meant: str, **told: object) -> Case:
    return Case(field, written, taken, meant, told)


HOT, COLD = "tyre pressure hot", "tyre pressure cold"
TREAD = "tyre temperature"

CASES = (
    _case(HOT, "32", GUESSED, "32 psi"),
    _case(HOT, "32 psi", SURE, "32 psi"),
    _case(HOT, "32PSI hot", SURE, "32 psi"),
    _case(HOT, "31 lbs", SURE, "31 psi"),
    _case(HOT, "24,5 psi", SURE, "24.5 psi"),
    _case(COLD, "2.2", GUESSED, "2.2 bar"),
    _case(COLD, "2,2", GUESSED, "2.2 bar"),
    _case(COLD, "220", GUESSED, "220 kPa"),
    _case(COLD, "220kpa", SURE, "220 kPa"),
    _case(COLD, "80", ASKED, "80 psi", "80 kPa"),
    _case(COLD, "80", GUESSED, "80 kPa", usual_unit="kPa"),
    _case(COLD, "10", REFUSED),
    _case(COLD, "10", GUESSED, "10 psi", usual_unit="psi"),
    _case(COLD, "2.2", GUESSED, "2.2 bar", usual_unit="psi"),
    _case(COLD, "32 bar", REFUSED),
    _case(COLD, "32 hot", REFUSED),
    _case(TREAD, "82", GUESSED, "82 degC"),
    _case(TREAD, "180", GUESSED, "180 degF"),
    _case(TREAD, "110", GUESSED, "110 degF", usual_unit="F"),
    _case(TREAD, "82°C", SURE, "82 degC"),
    _case("coolant temperature", "98", GUESSED, "98 degC"),
    _case("coolant temperature", "210", GUESSED, "210 degF"),
    _case("coolant temperature", "130+", REFUSED),
    _case("brake fluid boiling point", "230", GUESSED, "230 degC"),
    _case("brake fluid boiling point", "300", ASKED, "300 degC", "300 degF", usual_unit="°C"),
    _case("brake fluid boiling point", "401 F", SURE, "401 degF"),
    _case("brake fluid boiling point", "95 °C", REFUSED),
    _case("oil temperature", "118 deg C", SURE, "118 degC"),
    _case("oil temperature", "170", ASKED, "170 degC", "170 degF"),
    _case("ambient temperature", "45", ASKED, "45 degC", "45 degF"),
    _case("ambient temperature", "72", GUESSED, "72 degF"),
    _case("oil pressure", "4.5", GUESSED, "4.5 bar"),
    _case("oil pressure", "65", GUESSED, "65 psi"),
    _case("spring rate", "400", GUESSED, "400 lbf/inch"),
    _case("spring rate", "70", GUESSED, "70 N/mm"),
    _case("spring rate", "150", ASKED, "150 N/mm", "150 lbf/inch"),
    _case("spring rate", "150", GUESSED, "150 lbf/inch", usual_unit="lb/in"),
    _case("spring rate", "400lb", SURE, "400 lbf/inch"),
    _case("spring rate", "400#", SURE, "400 lbf/inch"),
    _case("spring rate", "8k", SURE, "8 kgf/mm"),
    _case("damper clicks", "8", ASKED, "8 from full soft", "8 from full hard"),
    _case("damper clicks", "8", GUESSED, "8 from full soft", usual_unit="from full soft"),
    _case("damper clicks", "8 from full soft", SURE, "8 from full soft"),
    _case("damper clicks", "8 clicks off full stiff", SURE, "8 from full hard"),
    _case("damper clicks", "8 out", GUESSED, "8 from full hard"),
    _case("anti-roll bar hole", "2nd hole", SURE, "2"),
    _case("anti-roll bar hole", "2", GUESSED, "2"),
    _case(
        "toe", "2 out", ASKED,
        "-2 mm", "-1 mm", "-2 arcmin", "-1 arcmin", "-0.125 inch", "-0.0625 inch",
    ),
    _case("toe", "2 out", GUESSED, "-1 mm", usual_unit="mm total"),
    _case("toe", "2 mm out", ASKED, "-2 mm", "-1 mm"),
    _case("toe", "2 mm", ASKED, "2 mm", "-2 mm", "1 mm", "-1 mm"),
    _case("toe", "1 mm out per wheel", SURE, "-1 mm"),
    _case("toe", "10' out total", SURE, "-5 arcmin"),
    _case("toe", "0°10' in each", SURE, "10 arcmin"),
    _case("toe", "1/16 out total", GUESSED, "-0.03125 inch"),
    _case("toe", "3 sixteenths in total", ASKED, "0.09375 inch", "-0.09375 inch"),
    _case("toe", "2", REFUSED),
    _case("camber", "2.5", GUESSED, "-2.5 degree"),
    _case("camber", "-2,5 deg", SURE, "-2.5 degree"),
    _case("camber", "2°30'", GUESSED, "-2.5 degree"),
    _case("camber", "+0.5°", SURE, "0.5 degree"),
    _case("camber", "3.2 deg neg", SURE, "-3.2 degree"),
    _case("torque", "110", ASKED, "110 N*m", "110 lbf*foot"),
    _case("torque", "80", GUESSED, "80 lbf*foot", usual_unit="lb-ft"),
    _case("torque", "50", ASKED, "50 N*m", "50 lbf*foot", usual_unit="N·m"),
    _case("torque", "200", ASKED, "200 N*m", "200 lbf*foot"),
    _case("torque", "80 ft lbs", SURE, "80 lbf*foot"),
    _case("torque", "108Nm", SURE, "108 N*m"),
    _case("fuel", "10", GUESSED, "10 L"),
    _case("fuel", "25,5 l", SURE, "25.5 L"),
    _case("fuel", "10 gal", ASKED, "10 imperial_gallon", "10 gallon"),
    _case("fuel", "10 gal", GUESSED, "10 gallon", usual_unit="US gal"),
    _case("fuel", "10 US gal", SURE, "10 gallon"),
    _case("fuel", "half a tank", GUESSED, "25 L", tank=0.05),
    _case("fuel", "¾", GUESSED, "37.5 L", tank=0.05),
    _case("fuel", "half", REFUSED),
    _case("fuel", "20 L can", GUESSED, "20 L"),
    _case("fuel", "2 x 20 l cans", GUESSED, "40 L"),
    _case("fuel", "2 cans", ASKED, "10 L", "20 L", "40 L", "50 L"),
    _case("fuel per lap", "2.1 L/lap", SURE, "2.1 L"),
    _case("fuel consumption", "45", GUESSED, "0.45 L/km"),
    _case("fuel consumption", "2.2 km/L", SURE, "1/(2.2 km/L)"),
    _case("fuel consumption", "6 mpg", ASKED, "1/(6 mile/imperial_gallon)", "1/(6 mile/gallon)"),
    _case("fuel consumption", "6 mpg US", SURE, "1/(6 mile/gallon)"),
    _case("pad thickness", "17", ASKED, "17 mm", "12 mm", new_thickness=0.012),
    _case("pad thickness", "9", ASKED, "9 mm", "4 mm"),
    _case("pad thickness", "9", GUESSED, "9 mm", new_thickness=0.012),
    _case("pad thickness", "9 mm with plate", GUESSED, "4 mm"),
    _case("pad thickness", "9 mm incl. plate", SURE, "3 mm", plate=0.006),
    _case("pad thickness", "9 mm friction", SURE, "9 mm"),
    _case("tread depth", '6/32"', SURE, "0.1875 inch"),
    _case("tread depth", "4,5", GUESSED, "4.5 mm"),
    _case("car mass", "1,060 kg", GUESSED, "1060 kg"),
    _case("car mass", "1300", ASKED, "1300 kg", "1300 lb"),
    _case("car mass", "2400", GUESSED, "2400 lb"),
    _case("part mass", "1,250 g", ASKED, "1.25 g", "1250 g"),
    _case("part mass", "1,250", GUESSED, "1.25 kg"),
    _case("distance", "1,200", ASKED, "1.2 km", "1200 km", usual_unit="km"),
    _case("distance", "120", ASKED, "120 km", "120 mile"),
    _case("distance", "120 miles", SURE, "120 mile"),
    _case("lap time", "1:43.2", SURE, "103.2 s"),
    _case("lap time", "1.43.2", SURE, "103.2 s"),
    _case("lap time", "1:43,2", SURE, "103.2 s"),
    _case("lap time", "1'43\"2", SURE, "103.2 s"),
    _case("lap time", "1m 43.2s", SURE, "103.2 s"),
    _case("lap time", "1 43.2", GUESSED, "103.2 s"),
    _case("lap time", "103.2", GUESSED, "103.2 s"),
    _case("lap time", "1.43", GUESSED, "103 s"),
    _case("lap time", "43.2", ASKED, "103.2 s", "43.2 s", expected=101.0),
    _case("lap time", "43.2", GUESSED, "43.2 s", expected=45.0),
    _case("lap time", "143.2", ASKED, "103.2 s", "143.2 s", expected=103.0),
    _case("date", "2026-05-12", SURE, "2026-05-12"),
    _case("date", "12th May 2026", SURE, "2026-05-12"),
    _case("date", "12.5.26", GUESSED, "2026-05-12"),
    _case("date", "5/6/26", ASKED, "2026-06-05", "2026-05-06"),
    _case("date", "5/6/26", GUESSED, "2026-05-06", order="month first"),
    _case("date", "13/5/26", GUESSED, "2026-05-13"),
    _case("date", "5/6", ASKED, "2026-06-05", "2026-05-06"),
    _case("date", "03/24", ASKED, "2024-03-01", "2024-03-31"),
    _case("date", "03/24", GUESSED, "2024-03-01", is_expiry=False),
    _case("date", "2028", GUESSED, "2028-12-31", is_expiry=True),
    _case("date", "31/2/26", REFUSED),
    _case("date", "12 May", GUESSED, "2026-05-12"),
    _case("date", "12 Dec", GUESSED, "2026-12-12", is_expiry=True),
    _case("date", "yesterday", SURE, "2026-05-13"),
    _case(f"{HOT}, four corners", "32/30", GUESSED, "32 psi | 32 psi | 30 psi | 30 psi"),
    _case(f"{HOT}, four corners", "32 31 30 29 psi", SURE, "32 psi | 31 psi | 30 psi | 29 psi"),
    _case(f"{HOT}, four corners", "32,31,30,29", GUESSED, "32 psi | 31 psi | 30 psi | 29 psi"),
    _case(f"{HOT}, four corners", "LF 32 RF 31 RR 30 LR 29", GUESSED, "32 psi | 31 psi | 29 psi | 30 psi"),
    _case(f"{HOT}, four corners", "2,2/2,1", GUESSED, "2.2 bar | 2.2 bar | 2.1 bar | 2.1 bar"),
    _case(f"{HOT}, four corners", "F 32 psi R 30 psi", SURE, "32 psi | 32 psi | 30 psi | 30 psi"),
    _case(f"{HOT}, four corners", "all 32", GUESSED, "32 psi | 32 psi | 32 psi | 32 psi"),
    _case(f"{HOT}, four corners", "32 31 30", REFUSED),
    _case(
        "spring rate, four corners", "150/140", ASKED,
        "150 N/mm | 150 N/mm | 140 N/mm | 140 N/mm",
        "150 lbf/inch | 150 lbf/inch | 140 lbf/inch | 140 lbf/inch",
    ),
    _case(
        "damper clicks, four corners", "8/6", ASKED,
        "8 from full soft | 8 from full soft | 6 from full soft | 6 from full soft",
        "8 from full hard | 8 from full hard | 6 from full hard | 6 from full hard",
    ),
    _case("temperatures across a tread", "in 85 82 78 out", GUESSED, "85 degC | 82 degC | 78 degC"),
    _case(
        "temperatures across a tread", "78 82 85", ASKED,
        "78 degC | 82 degC | 85 degC", "85 degC | 82 degC | 78 degC",
    ),
    _case("temperatures across a tread", "78 82 85 °C", GUESSED, "85 degC | 82 degC | 78 degC",
          usual_order="outer first"),
)  # fmt: skip


def _told(case: Case) -> str:
    return ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in case.told.items()) or "-"


def _outcome(case: Case) -> str:
    found = case.read()
    if isinstance(found, Understood | Row):
        return f"{found.says}{' *(guessed)*' if found.is_guessed else ''}"
    if isinstance(found, Ask):
        return "**asks**: " + ", or ".join(choice.says for choice in found.choices)
    return "*refused*"


def table() -> str:
    """Give the table of all cases in Markdown."""
    rows = ["| field | written | known beforehand | read as |", "|---|---|---|---|"]
    rows += [f"| {case.field} | `{case.written}` | {_told(case)} | {_outcome(case)} |" for case in CASES]
    return "\n".join(rows)


def _between(ends: tuple[float, float] | None) -> str:
    return f"{ends[0]:.4g} to {ends[1]:.4g}" if ends else "-"


def bounds() -> str:
    """Give the table of bounds in Markdown; "over" and "under" ends stand as the number itself."""
    rows = ["| field | unit | alone it means this | believed if usual | limits |", "|---|---|---|---|---|"]
    for one in FIELDS.values():
        for reading in one.readings:
            limits = f"{_between(one.limits)} {one.limit_unit}"
            ends = f"{_between(reading.usual)} | {_between(reading.bare)}"
            rows.append(f"| {one.name} | {spelled(reading.unit)} | {ends} | {limits} |")
    return "\n".join(rows)


def page() -> str:
    """Give the whole page: its words as they stand, its two tables anew."""
    words = PAGE.read_text("utf-8").partition("| field | written |")[0]
    between = """
## Bounds of bare numbers

A number without a unit means the unit in whose third column it stands, is asked when it stands in two, and is
read in the unit you usually write while it stands in the fourth. With its unit written it may be anything
within the limits.
"""
    return f"{words}{table()}\n{between}\n{bounds()}\n"


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
