"""What every command shares: plain sentences for bad input, JSON, tables and progress."""

import functools
import json
import math
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date
from typing import IO, TYPE_CHECKING, Any, ParamSpec

import click

from tintop.errors import BadInput, TintopError, refuse
from tintop.units import parse_quantity

if TYPE_CHECKING:
    from tintop.answer import Assumption
    from tintop.garage.keeper import Garage
    from tintop.logbook.book import Logbook
    from tintop.reports.sheet import Sheet

_Arguments = ParamSpec("_Arguments")

FILE = click.Path(path_type=str)
as_json = click.option("--json", "is_json", is_flag=True, help="Print JSON instead of a table.")


class _Day(click.ParamType[date]):
    name = "day"

    def convert(
        self, value: str | date, parameter: click.Parameter | None, context: click.Context | None
    ) -> date:
        if isinstance(value, date):
            return value
        try:
            if len(value) == len("2026-06-20"):
                return date.fromisoformat(value)
        except ValueError:
            pass
        option = parameter.opts[0] if parameter else "day"
        raise _Plain(str(refuse(option, repr(value), "a day as year-month-day, such as 2026-06-20")))


class _Number(click.ParamType[float]):
    """A number as the documents have it: 0_4 is none, a decimal comma is one."""

    name = "number"

    def __init__(self, is_whole: bool) -> None:
        self._is_whole = is_whole

    def convert(
        self, value: str | float, parameter: click.Parameter | None, context: click.Context | None
    ) -> float:
        option = parameter.opts[0] if parameter else "number"
        try:
            found = parse_quantity(value, "number", option)
        except BadInput as error:
            raise _Plain(str(error)) from None
        if not self._is_whole:
            return found
        if found != int(found):
            raise _Plain(str(refuse(option, repr(value), "a whole number")))
        return int(found)


class _Plain(click.ClickException):
    exit_code = 2

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(self.message, err=True, file=file)


DAY = _Day()
NUMBER, WHOLE = _Number(is_whole=False), _Number(is_whole=True)


def plainly(command: Callable[_Arguments, None]) -> Callable[_Arguments, None]:
    """Turn what the owner can mend into sentences on the error stream and exit code 2."""

    @functools.wraps(command)
    def run(*arguments: _Arguments.args, **options: _Arguments.kwargs) -> None:
        try:
            command(*arguments, **options)
        except TintopError as error:
            click.echo(str(error), err=True)
            sys.exit(2)
        except KeyboardInterrupt:
            click.echo("Stopped. Nothing was written.", err=True)
            sys.exit(130)

    return run


@contextmanager
def reading(folder: str) -> Iterator["Garage"]:
    """A garage opened for reading; what is not taken in of its folder is said on the error stream."""
    from tintop.garage.keeper import Garage

    opened = Garage.open(folder, writing=False)
    try:
        tell(opened.store.document_notices)
        yield opened
    finally:
        opened.close()


def logbook_in(folder: str) -> tuple["Logbook | None", date]:
    """The logbook of a garage and its day; none for a plain folder."""
    from pathlib import Path

    if not (Path(folder) / "garage.sqlite").exists():
        return None, date.max
    with reading(folder) as garage:
        return garage.book, garage.today()


def tell(notices: Sequence[str]) -> None:
    """Say notices on the error stream, one a line."""
    for notice in notices:
        click.echo(notice, err=True)


def print_json(content: Any) -> None:
    """Print strict JSON; numbers that are not finite become null."""
    click.echo(json.dumps(_finite(content), ensure_ascii=False, indent=1, allow_nan=False))


def _finite(content: Any) -> Any:
    if isinstance(content, dict):
        return {key: _finite(value) for key, value in content.items()}
    if isinstance(content, (list, tuple)):
        return [_finite(value) for value in content]
    if hasattr(content, "tolist"):
        return _finite(content.tolist())
    if isinstance(content, float) and not math.isfinite(content):
        return None
    return content


def print_table(title: str, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print a table; columns whose cells are numbers stand to the right."""
    from rich.console import Console
    from rich.table import Table

    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False)
    for place, column in enumerate(columns):
        numeric = bool(rows) and all(_is_number(row[place]) for row in rows)
        words = [word for row in rows for word in row[place].split()] if place == 0 else []
        table.add_column(
            column,
            justify="right" if numeric else "left",
            overflow="fold",
            min_width=max(map(len, words), default=0) or None,  # the first names the row: it is not cut
        )
    for row in rows:
        table.add_row(*row)
    width = None if sys.stdout.isatty() or os.environ.get("COLUMNS", "").isdigit() else 110
    Console(soft_wrap=False, highlight=False, markup=False, emoji=False, width=width).print(table)


def _is_number(text: str) -> bool:
    return text.strip("+-").replace(".", "", 1).replace(" ", "")[:1].isdigit() or not text


@contextmanager
def progress(words: str) -> Iterator[Callable[[float], None]]:
    """Show a bar on the error stream while long work runs; silent when nobody looks."""
    if not sys.stderr.isatty():
        yield lambda _share: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(words, total=1.0)
        yield lambda share: bar.update(task, completed=min(share, 1.0))


def warm_kernels() -> None:
    """Say so once when this machine has yet to compile the kernels."""
    from tintop.physics.compiled import is_warm

    if not is_warm():
        click.echo("First run on this machine: compiling the lap model, about ten seconds.", err=True)


def write_picture(picture: str, svg: str) -> None:
    """Write a picture whole and say so on the error stream; BadInput where it cannot be written."""
    from pathlib import Path

    from tintop.store.durable import disk_in_plain_words, write_whole

    path = Path(picture)
    if not path.parent.is_dir():
        raise refuse(picture, "a folder that does not exist", "a folder that exists")
    with disk_in_plain_words(path):
        write_whole(path, svg.encode())
    click.echo(f"Wrote {picture}", err=True)


def print_answer(
    sheet: "Sheet",
    content: dict[str, Any],
    assumed: Sequence["Assumption"],
    units: Mapping[str, str],
    *,
    is_json: bool,
) -> None:
    """Print an answer of the bench with what was assumed for it, as a sheet or as JSON."""
    from tintop.garage.assumed import assumed_content, with_assumed

    if is_json:
        print_json(content | assumed_content(assumed))
    else:
        print_sheet(with_assumed(sheet, assumed, units))


def print_sheet(sheet: "Sheet") -> None:
    """Print a sheet: sentences, tables, cautions."""
    for sentence in sheet.sentences:
        if sentence:
            click.echo(sentence)
    for table in sheet.tables:
        click.echo()
        print_table(table.title, table.columns, table.rows)
    click.echo()
    for caution in sheet.cautions:
        click.echo(f"Caution: {caution}")
