"""A change of the set-up as it is typed."""

from collections.abc import Mapping

from tintop.handwriting import Understood
from tintop.logbook.entries import SetupChanged
from tintop.web.typed_form import CORNERS, TypedForm

ITEM_KINDS: Mapping[str, str] = {
    "camber": "camber",
    "toe": "toe",
    "caster": "caster",
    "ride height": "ride height",
    "spring": "spring rate",
    "damper, bump": "damper clicks",
    "damper, rebound": "damper clicks",
    "front bar": "anti-roll bar hole",
    "rear bar": "anti-roll bar hole",
    "brake balance": "",
    "wing": "",
}


def read_setup(form: TypedForm) -> SetupChanged | None:
    """The change as typed; None when something is asked or wrong, which then stands in the form.

    An item whose kind is known is read as a value; any other stands as it was written.
    """
    item = form.words("set_item", needed=True)
    corner = form.choice("set_corner", ("", *CORNERS))
    reason = form.words("set_reason")
    kind = ITEM_KINDS.get(item, "")
    written = form.words("set_value", needed=True)
    meaning = form.meaning("set_value", kind) if kind else None
    if not form.is_good:
        return None
    found = meaning if isinstance(meaning, Understood) else None
    return SetupChanged(
        item=item,
        corner=corner,  # type: ignore[arg-type]
        value=found.value if found else None,
        written=written,
        quantity=found.quantity if found else "",
        reason=reason,
    )


def typed_setup(change: SetupChanged) -> dict[str, str]:
    """A change as it would be typed."""
    return {
        "set_item": change.item,
        "set_corner": change.corner,
        "set_value": change.written,
        "set_reason": change.reason,
    }
