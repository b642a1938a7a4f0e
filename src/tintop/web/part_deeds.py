"""What is done to a part or the set-up, as it is typed and typed again to be corrected."""

from tintop.errors import refuse
from tintop.logbook.build import Build
from tintop.logbook.entries import (
    Entry,
    Fate,
    Matter,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
    SessionRun,
    SetupChanged,
)
from tintop.web.setup_form import read_setup, typed_setup
from tintop.web.typed_form import CORNERS, TypedForm

LABELS = {
    "fit": "Fit it",
    "off": "Take it off",
    "inspected": "Inspected and found good",
    "failed": "It failed",
}
FIELDS: dict[str, tuple[tuple[str, str], ...]] = {
    "part fitted": (("fit_corner", "Corner"), ("fit_replaces", "In place of")),
    "part removed": (("off_fate", "What becomes of it"), ("off_reason", "Reason")),
    "part inspected": (("inspected_found", "What was found"),),
    "part failed": (
        ("failed_what", "What let go"),
        ("failed_consequence", "What it led to"),
        ("failed_session", "Session"),
    ),
    "set-up changed": (
        ("set_item", "Item"),
        ("set_corner", "Corner"),
        ("set_value", "Value"),
        ("set_reason", "Reason"),
    ),
}
_ACTS = {"part fitted": "fit", "part removed": "off", "part inspected": "inspected", "part failed": "failed"}


def act_of(entry: Entry) -> str:
    """Which form an entry was written with; "" for one these pages do not write."""
    kind = entry.matter.kind
    return _ACTS.get(kind, "set" if kind == "set-up changed" else "")


def read_deed(form: TypedForm, act: str, part: str, build: Build, sessions: set[str]) -> Matter | None:
    """What was done, as typed; None when something is asked or wrong, which then stands in the form."""
    found: Matter | None = None
    match act:
        case "fit":
            replaces = form.choice("fit_replaces", ("", *build.by_name))
            corner = form.choice("fit_corner", ("", *CORNERS))
            if replaces == part:
                form.refuse("fit_replaces", "Found the part itself; expected another part, or none.")
            found = PartFitted(part=part, corner=corner, replaces=replaces)  # type: ignore[arg-type]
        case "off":
            fate = form.choice("off_fate", list(Fate), Fate.KEPT.value)
            reason = form.words("off_reason")
            found = PartRemoved(part=part, fate=Fate(fate), reason=reason) if form.is_good else None
        case "inspected":
            is_failed = part in build.by_name and bool(build.by_name[part].failed)
            found = PartInspected(part=part, found=form.words("inspected_found", needed=is_failed))
        case "failed":
            found = PartFailed(
                part=part,
                what=form.words("failed_what", needed=True),
                consequence=form.words("failed_consequence"),
                session=form.choice("failed_session", ("", *sessions)),
            )
        case "set":
            found = read_setup(form)
        case _:
            raise refuse("act", repr(act[:40]), "fit, off, inspected or failed")
    return found if form.is_good else None


def typed_deed(matter: Matter) -> dict[str, str]:
    """What was done, as it would be typed."""
    match matter:
        case PartFitted():
            return {"fit_corner": matter.corner, "fit_replaces": matter.replaces}
        case PartRemoved():
            return {"off_fate": matter.fate.value, "off_reason": matter.reason}
        case PartInspected():
            return {"inspected_found": matter.found}
        case PartFailed():
            return {
                "failed_what": matter.what,
                "failed_consequence": matter.consequence,
                "failed_session": matter.session,
            }
        case SetupChanged():
            return typed_setup(matter)
    return {}


def part_of(matter: Matter) -> str:
    """The part a deed was done to, "" for the set-up."""
    return matter.part if isinstance(matter, (PartFitted, PartRemoved, PartInspected, PartFailed)) else ""


def session_names(runs: list[SessionRun]) -> list[tuple[str, str]]:
    """Sessions to choose from, the last first."""
    return [(run.session, f"{run.name}, {run.meeting}") for run in reversed(runs)]
