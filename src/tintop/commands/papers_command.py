"""`tintop papers`: event card, build book in both editions, pack for the scrutineer, as PDF in a folder."""

from pathlib import Path

import click

from tintop.commands.common import FILE, as_json, plainly, print_json, progress, reading, warm_kernels
from tintop.errors import TintopError

CARD, BOOK, PUBLIC = "event-card.pdf", "build-book.pdf", "build-book-public.pdf"
PACK, OWN_PACK = "scrutineer-pack.pdf", "scrutineer-pack-with-prices.pdf"


@click.command("papers")
@click.argument("garage", type=FILE)
@click.argument("folder", type=FILE)
@click.option("--no-predict", "is_quick", is_flag=True, help="Make the card without predicting lap and race.")
@click.option("--prices", "has_prices", is_flag=True, help="Write the owner's own pack, with prices, too.")
@as_json
@plainly
def command(garage: str, folder: str, is_quick: bool, has_prices: bool, is_json: bool) -> None:
    """Write the next event's card, its pack for the scrutineer, and the build book of GARAGE into FOLDER.

    There is a pack when rule books are named for the event.
    """
    from tintop.garage.papers import build_book, event_card
    from tintop.garage.scrutineer_pack import scrutineer_pack

    with_words: list[str] = []
    contents: dict[str, bytes] = {}
    with reading(garage) as opened:
        meeting = opened.next_meeting()
        if meeting is None:
            with_words.append("No event is planned: no event card.")
        else:
            if not is_quick:
                warm_kernels()
                try:
                    with progress("Lap and race") as tell:
                        opened.predict(meeting, tell)
                except TintopError as error:
                    with_words.append(f"Lap and race are not predicted. {error}")
            contents[CARD] = event_card(opened, meeting)
            if meeting.rule_books:
                contents[PACK] = scrutineer_pack(opened, meeting)
                if has_prices:
                    contents[OWN_PACK] = scrutineer_pack(opened, meeting, has_prices=True)
            else:
                with_words.append(f"No rule book is named for {meeting.name}: no pack for the scrutineer.")
        contents[BOOK] = build_book(opened, public=False)
        contents[PUBLIC] = build_book(opened, public=True)
    written = _write(Path(folder), contents)
    if is_json:
        print_json({"written": [str(path) for path in written], "remarks": with_words})
        return
    for words in with_words:
        click.echo(words, err=True)
    for path in written:
        click.echo(f"Wrote {path} ({path.stat().st_size / 1e3:.0f} kB).")


def _write(folder: Path, contents: dict[str, bytes]) -> list[Path]:
    """Write the papers into a folder; BadInput where it cannot be written."""
    from tintop.store.durable import disk_in_plain_words, write_whole

    with disk_in_plain_words(folder):
        for name, content in contents.items():
            write_whole(folder / name, content)
    return [folder / name for name in contents]
