"""`tintop check`: the published cases, rerun."""

import sys

import click

from tintop.commands.common import as_json, plainly, print_json, print_table, warm_kernels


@click.command("check")
@as_json
@plainly
def command(is_json: bool) -> None:
    """Rerun the published cases: expected, computed, error; exit code 1 if one is outside its tolerance."""
    from dataclasses import asdict

    from tintop import garage

    warm_kernels()
    outcomes = garage.check_cases()
    wrong = [outcome for outcome in outcomes if not outcome.ok]
    if is_json:
        print_json([asdict(outcome) for outcome in outcomes])
    else:
        cases: dict[str, list[tuple[str, ...]]] = {}
        for one in outcomes:
            row = (
                one.quantity,
                _figure(one.expected),
                _figure(one.computed),
                f"{one.error:.2g}",
                one.tolerance,
                "" if one.ok else "WRONG",
            )
            cases.setdefault(f"{one.id}: {one.source}", []).append(row)
        for title, rows in cases.items():
            print_table(title, ("quantity", "expected", "computed", "error", "tolerance", ""), rows)
            click.echo()
        click.echo(f"{len(cases)} cases, {len(outcomes)} numbers, {len(wrong)} outside their tolerance.")
    if wrong:
        sys.exit(1)


def _figure(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.8g}"
