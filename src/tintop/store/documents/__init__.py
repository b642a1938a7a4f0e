"""Car and event documents: TOML a person writes, checked once, to frozen values in SI."""

from tintop.store.documents.car_reader import read_car
from tintop.store.documents.event_reader import read_event
from tintop.store.documents.together import refuse_contradictions

__all__ = ["read_car", "read_event", "refuse_contradictions"]
