"""What a new garage still lacks."""

from tintop.garage.keeper import Garage
from tintop.garage.predictions import CAR
from tintop.store.starting import is_described


def is_car_described(garage: Garage) -> bool:
    """Whether anything of the car stands in its document."""
    return CAR in garage.document_names() and is_described(garage.standing([CAR])[CAR].text)
