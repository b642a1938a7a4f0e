"""A workbook file (XLSX) from plain values, by ECMA-376 part 1 (SpreadsheetML), and nothing but values.

Written here because the library that reads it back rounds a number to 16 digits and takes fifteen seconds for
70,000 rows. Text is always text, never a formula. The same values give the same bytes.
"""

import re
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

Cell = str | float | int | bool | date | Decimal | None
LONGEST_TEXT = 16_000  # characters; each counts once or twice towards the 32,767 a cell may hold
MOST_ROWS = 1_048_576
LARGEST_WHOLE = 2**53  # above it not every whole number is a cell's number

_DAY, _MONEY, _HEAD, _WRAPPED = 1, 2, 3, 4  # places in the styles below
_FIRST_DAY = date(1900, 3, 1)  # before it the format counts a 29 February 1900 that never was
_DAY_ZERO = date(1899, 12, 30)
_LONG_AGO = (1980, 1, 1, 0, 0, 0)
_UNKEPT = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_ESCAPE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_ESCAPED = re.compile(r"_x005[Ff]_")
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet: its title, widths of columns in characters, how many rows, and these, heads first."""

    title: str
    widths: Sequence[float]
    height: int
    rows: Iterable[Sequence[Cell]]


def kept_text(text: str) -> str:
    """Give text as a cell holds it: a control character becomes �.

    A text that looks like the format's own escape _xHHHH_ (ECMA-376 part 1, 22.9.2.19) is escaped by it.
    """
    return _ESCAPE.sub("_x005F_", _UNKEPT.sub("�", text))


def text_of(cell: str) -> str:
    """Give the text that `kept_text` wrote."""
    return _ESCAPED.sub("_", cell)


def write_workbook(path: Path, sheets: Sequence[Sheet]) -> None:
    """Write sheets to a new file.

    Texts must not be longer than LONGEST_TEXT and rows not more than MOST_ROWS: the caller sees to it.
    """
    texts: dict[str, int] = {}
    with zipfile.ZipFile(path, "w") as package:
        for name, text in _parts([sheet.title for sheet in sheets]).items():
            _write(package, name, (_XML, text))
        for place, sheet in enumerate(sheets, 1):
            _write(package, f"xl/worksheets/sheet{place}.xml", _sheet(sheet, texts))
        _write(package, "xl/sharedStrings.xml", _shared(texts))


def _write(package: zipfile.ZipFile, name: str, pieces: Iterable[str]) -> None:
    info = zipfile.ZipInfo(name, _LONG_AGO)
    info.compress_type = zipfile.ZIP_DEFLATED
    with package.open(info, "w") as part:
        for piece in pieces:
            part.write(piece.encode())


def _shared(texts: Iterable[str]) -> Iterable[str]:
    yield f'{_XML}<sst xmlns="{_MAIN}">'
    for text in texts:
        yield f'<si><t xml:space="preserve">{_escaped(kept_text(text))}</t></si>'
    yield "</sst>"


def _sheet(sheet: Sheet, texts: dict[str, int]) -> Iterable[str]:
    widths = "".join(
        f'<col min="{place}" max="{place}" width="{width:g}" customWidth="1"/>'
        for place, width in enumerate(sheet.widths, 1)
    )
    corner = f"{column_letters(len(sheet.widths))}{sheet.height}"
    yield (
        f'{_XML}<worksheet xmlns="{_MAIN}"><dimension ref="A1:{corner}"/>'
        '<sheetViews><sheetView workbookViewId="0">'
        '<pane xSplit="1" ySplit="1" topLeftCell="B2" activePane="bottomRight" state="frozen"/>'
        f"</sheetView></sheetViews><cols>{widths}</cols><sheetData>"
    )
    letters: list[str] = []
    for number, row in enumerate(sheet.rows, 1):
        while len(letters) < len(row):
            letters.append(column_letters(len(letters) + 1))
        cells = "".join(
            [
                _cell(f"{letter}{number}", value, texts, number == 1)
                for letter, value in zip(letters, row, strict=False)
                if value is not None and value != ""
            ]
        )
        yield f'<row r="{number}">{cells}</row>'
    yield "</sheetData></worksheet>"


def column_letters(place: int) -> str:
    """Give the letters of a column counted from 1."""
    letters = ""
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _cell(where: str, value: Cell, texts: dict[str, int], is_head: bool) -> str:
    match value:
        case str():
            style = f' s="{_HEAD}"' if is_head else f' s="{_WRAPPED}"' if "\n" in value else ""
            return f'<c r="{where}"{style} t="s"><v>{texts.setdefault(value, len(texts))}</v></c>'
        case bool():
            return f'<c r="{where}" t="b"><v>{value:d}</v></c>'
        case date():
            if value < _FIRST_DAY:
                return _cell(where, value.isoformat(), texts, is_head)
            return f'<c r="{where}" s="{_DAY}"><v>{(value - _DAY_ZERO).days}</v></c>'
        case Decimal():
            return f'<c r="{where}" s="{_MONEY}"><v>{value:f}</v></c>'
        case int() if abs(value) > LARGEST_WHOLE:
            return _cell(where, str(value), texts, is_head)
    return f'<c r="{where}"><v>{value!r}</v></c>'


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def _parts(titles: Sequence[str]) -> dict[str, str]:
    places = range(1, len(titles) + 1)
    sheets = "".join(
        f'<sheet name="{_escaped(title)}" sheetId="{place}" r:id="rId{place}"/>'
        for place, title in zip(places, titles, strict=True)
    )
    types = "".join(
        f'<Override PartName="/xl/worksheets/sheet{place}.xml" ContentType="{_TYPE}.worksheet+xml"/>'
        for place in places
    )
    links = "".join(
        f'<Relationship Id="rId{place}" Type="{_OFFICE}/worksheet" Target="worksheets/sheet{place}.xml"/>'
        for place in places
    )
    return {
        "[Content_Types].xml": (
            f'<Types xmlns="{_PACKAGE}/content-types">'
            '<Default Extension="rels"'
            ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            '<Default Extension="xml" ContentType="application/xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPE}.sheet.main+xml"/>'
            f'<Override PartName="/xl/styles.xml" ContentType="{_TYPE}.styles+xml"/>'
            f'<Override PartName="/xl/sharedStrings.xml" ContentType="{_TYPE}.sharedStrings+xml"/>'
            f"{types}</Types>"
        ),
        "_rels/.rels": (
            f'<Relationships xmlns="{_PACKAGE}/relationships"><Relationship Id="rId1"'
            f' Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>'
        ),
        "xl/workbook.xml": (
            f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>{sheets}</sheets></workbook>'
        ),
        "xl/_rels/workbook.xml.rels": (
            f'<Relationships xmlns="{_PACKAGE}/relationships">{links}<Relationship'
            f' Id="rId{len(titles) + 1}" Type="{_OFFICE}/styles" Target="styles.xml"/><Relationship'
            f' Id="rId{len(titles) + 2}" Type="{_OFFICE}/sharedStrings" Target="sharedStrings.xml"/>'
            "</Relationships>"
        ),
        "xl/styles.xml": _STYLES,
    }


_STYLES = (
    f'<styleSheet xmlns="{_MAIN}">'
    '<numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts>'
    '<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font>'
    '<font><b/><sz val="11"/><name val="Calibri"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill>'
    '<fill><patternFill patternType="gray125"/></fill></fills>'
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="5">'
    '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>'
    '<xf numFmtId="2" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>'
    '<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1" applyAlignment="1">'
    '<alignment vertical="top" wrapText="1"/></xf>'
    '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1">'
    '<alignment vertical="top" wrapText="1"/></xf>'
    "</cellXfs>"
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)
