"""garage.toml: title, owner, currency and units of a garage, and whether it is the demo's."""

from tintop.errors import BadInput, Problem
from tintop.settings import USUAL_UNITS, Settings
from tintop.store.document_names import SETTINGS_NAME
from tintop.store.documents.text import toml_tables
from tintop.units import UNITS

_FIELDS = ("title", "owner", "currency", "units", "is_demo")


def settings_from(text: str) -> Settings:
    """Read garage.toml; raise BadInput naming each field that is wrong."""
    found = toml_tables(text, SETTINGS_NAME, 'title = "Lantern"')
    problems = [
        Problem(where=f"{SETTINGS_NAME}, {name}", found="an unknown field", expected=", ".join(_FIELDS))
        for name in found
        if name not in _FIELDS
    ]
    words = {
        name: found.get(name, usual) for name, usual in (("title", ""), ("owner", ""), ("currency", "£"))
    }
    for name, value in words.items():
        if not isinstance(value, str) or len(value) > 200 or (name != "owner" and not value.strip()):
            problems.append(Problem(where=f"{SETTINGS_NAME}, {name}", found=repr(value), expected="words"))
    is_demo = found.get("is_demo", False)
    if not isinstance(is_demo, bool):
        problems.append(
            Problem(where=f"{SETTINGS_NAME}, is_demo", found=repr(is_demo), expected="true or false")
        )
    units = found.get("units", {})
    if not isinstance(units, dict):
        problems.append(Problem(where=f"{SETTINGS_NAME}, units", found=repr(units), expected="a table"))
        units = {}
    for quantity, unit in units.items():
        units_of = UNITS.get("length" if quantity == "distance" else quantity, ())
        known = [one.name for one in units_of] if quantity in USUAL_UNITS else []
        if unit not in known:
            expected = "one of " + ", ".join(known or USUAL_UNITS)
            problems.append(
                Problem(where=f"{SETTINGS_NAME}, units.{quantity}", found=repr(unit), expected=expected)
            )
    if problems:
        raise BadInput(*problems)
    return Settings(
        title=words["title"],
        owner=words["owner"],
        currency=words["currency"],
        units={**USUAL_UNITS, **units},
        is_demo=is_demo,
    )


def settings_text(settings: Settings) -> str:
    """Write settings as garage.toml; raise BadInput if they would not read back."""
    import tomli_w

    content = {
        "title": settings.title,
        "owner": settings.owner,
        "currency": settings.currency,
        **({"is_demo": True} if settings.is_demo else {}),
        "units": dict(settings.units),
    }
    text = tomli_w.dumps(content)
    settings_from(text)
    return text
