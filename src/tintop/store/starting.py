"""A garage of one's own, begun: settings and a car to describe; not one entry is invented."""

from importlib.resources import files
from pathlib import Path

from tintop.errors import refuse
from tintop.settings import Settings
from tintop.store.documents.car_reader import read_car
from tintop.store.documents.text import read_text
from tintop.store.garage_store import Store

CAR = "car.toml"


def starter_car() -> str:
    """The car's document to be filled in: the fields it needs, each on a line that is not read yet."""
    return files("tintop").joinpath("data/starter/car.toml").read_text("utf-8")


def starter_document(name: str) -> str:
    """A document of such a name to be filled in; empty where there is none to begin with."""
    if name == "chassis.toml":
        return files("tintop").joinpath("data/starter/chassis.toml").read_text("utf-8")
    if name.startswith("setups/"):
        return files("tintop").joinpath("data/starter/setup.toml").read_text("utf-8")
    return ""


def is_described(text: str) -> bool:
    """Whether anything was filled into the car's document."""
    return text.strip() != starter_car().strip()


def start_garage(folder: Path | str, settings: Settings, car: Path | str | None = None) -> Store:
    """Make an empty garage in a folder, made if it is missing, and open it for writing.

    Documents that lie in the folder become its first revisions; without a car.toml among them, `car` is
    copied, or one to fill in is laid there. Raises BadInput, with nothing made, where a garage is there
    already, the car does not read, or two cars are meant.
    """
    folder = Path(folder)
    text = starter_car()
    if car is not None:
        text = read_text(Path(car))
        read_car(car)
        if (folder / CAR).exists():
            raise refuse(str(folder / CAR), "a car there already", "none beside --car", "Leave --car out.")
    store = Store.create(folder, settings)
    if CAR not in store.document_names():
        why = "to be filled in" if car is None else "the garage was made"
        store.save_document(CAR, text, based_on=None, who=settings.owner, why=why)
    return store
