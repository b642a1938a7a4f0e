"""Numbers as an option takes them: strictly, and with a sentence."""

import click
import pytest
from click.testing import CliRunner

from tintop.commands.common import NUMBER, WHOLE


@click.command()
@click.option("--turns", type=NUMBER)
@click.option("--hole", type=WHOLE)
@click.option("--cross", type=NUMBER, default=50.0)
def asked(turns: float | None, hole: int | None, cross: float) -> None:
    click.echo(f"{turns!r} {hole!r} {cross!r}")


@pytest.mark.parametrize(("text", "number"), [("-1.5", -1.5), ("1,5", 1.5), ("3", 3.0)])
def test_a_number_is_read_as_the_documents_have_it(text: str, number: float) -> None:
    assert CliRunner().invoke(asked, ["--turns", text]).output == f"{number!r} None 50.0\n"


def test_a_whole_number_is_one() -> None:
    assert CliRunner().invoke(asked, ["--hole", "2"]).output == "None 2 50.0\n"


@pytest.mark.parametrize(
    ("option", "text"),
    [("--turns", "0_4"), ("--turns", "nan"), ("--turns", "inf"), ("--hole", "1_0"), ("--hole", "1.5")],
)
def test_what_is_no_number_is_told(option: str, text: str) -> None:
    found = CliRunner().invoke(asked, [option, text])
    assert found.exit_code == 2
    assert found.stderr.startswith(f"{option}: found ") and "Traceback" not in found.output
