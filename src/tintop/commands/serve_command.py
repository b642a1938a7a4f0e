"""`tintop serve`: the page of a garage, on this laptop or for the phones of the paddock."""

import click

from tintop.commands.common import FILE, plainly


@click.command("serve")
@click.argument("garage", type=FILE, default=".")
@click.option(
    "--port", type=click.IntRange(1, 65535), default=8046, show_default=True, help="Port to serve on."
)
@click.option("--network", "is_network", is_flag=True, help="Serve paired phones on this network too.")
@click.option("--no-open", "is_quiet", is_flag=True, help="Do not open the page in a browser.")
@plainly
def command(garage: str, port: int, is_network: bool, is_quiet: bool) -> None:
    """Serve the page of GARAGE (a folder; this one if not named) until interrupted."""
    from tintop.web.serving import serve

    serve(garage, port=port, is_network=is_network, opens_browser=not is_quiet, tell=click.echo)
