"""The demo's documents: an invented club, its circuits, two cars, a cage, set-ups and a two-hour race."""

from importlib.resources import files
from pathlib import Path

from tintop.errors import BadInput, Problem, refuse

NAMES = ("car.toml", "second_car.toml", "event.toml", "circuit.csv", "cage.toml", "chassis.toml")
SETUPS = ("road", "dry", "wet", "larkmoor", "ottersgill", "wether-moor")
CIRCUITS = {"larkmoor": "circuit.csv", "ottersgill": "ottersgill.csv", "wether-moor": "wether_moor.csv"}
EVIDENCE, RULE_BOOKS = "evidence.toml", "rule_books"


def demo_path(name: str) -> Path:
    """Give the path of one of the demo's documents inside the package.

    Raises BadInput for a name that is not one of `NAMES`.
    """
    if name not in NAMES:
        raise refuse("demo document", repr(name), "one of " + ", ".join(NAMES))
    return Path(str(files("tintop").joinpath(f"data/demo/{name}")))


def write_demo(folder: Path | str) -> list[Path]:
    """Write the demo's documents into a folder, made if it is missing, and give their paths.

    Its rule books go into the folder rule_books, its set-ups into setups, its circuits by name into
    circuits, what proves its car into evidence.toml, the pictures that names into the folder originals.
    Raises BadInput, with nothing written, if one of the files is there already or the folder cannot be
    written.
    """
    folder = Path(folder)
    contents = _contents()
    targets = [folder / name for name in contents]
    there = [target for target in targets if target.exists()]
    if there:
        raise BadInput(
            *(
                Problem(
                    where=str(target),
                    found="a file of this name",
                    expected="none, so that nothing is overwritten",
                    cure="Name another folder, or move the file away.",
                )
                for target in there
            )
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for target, content in zip(targets, contents.values(), strict=True):
            target.parent.mkdir(exist_ok=True)
            target.write_bytes(content)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise refuse(
            str(folder), f"a folder that cannot be written ({reason})", "a writable folder"
        ) from None
    return targets


def _contents() -> dict[str, bytes]:
    from tintop.store.demo_evidence import demo_evidence, evidence_pictures
    from tintop.store.originals import ORIGINALS_NAME

    demo = files("tintop").joinpath("data/demo")
    folder = demo.joinpath(RULE_BOOKS)
    books = {book.name: book.read_bytes() for book in folder.iterdir() if book.name.endswith(".toml")}
    return {
        **{name: demo_path(name).read_bytes() for name in NAMES},
        **{f"setups/{name}.toml": demo.joinpath(f"setups/{name}.toml").read_bytes() for name in SETUPS},
        **{f"circuits/{name}.csv": demo.joinpath(file).read_bytes() for name, file in CIRCUITS.items()},
        **{f"{RULE_BOOKS}/{name}": books[name] for name in sorted(books)},
        **{f"{ORIGINALS_NAME}/{picture.name}": picture.content for picture in evidence_pictures()},
        EVIDENCE: demo_evidence().encode("utf-8"),
    }
