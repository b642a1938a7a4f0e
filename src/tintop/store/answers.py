"""An answer as text, to be kept in the logbook and read again."""

import dataclasses
import json
import math
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from tintop.answer import Answer
from tintop.errors import refuse


def answer_to_text(answer: Answer) -> str:
    """Write an answer as JSON; numbers that are not finite become null."""
    return json.dumps(_plain(answer), ensure_ascii=False, allow_nan=False)


def answer_from_text(text: str) -> Answer:
    """Read an answer written by `answer_to_text`; BadInput for anything else."""
    try:
        return _adapter().validate_json(text)
    except ValidationError as error:
        raise refuse(
            "answer", f"text that is no answer ({error.error_count()} faults)", "an answer"
        ) from None


@cache
def _adapter() -> TypeAdapter[Answer]:
    return TypeAdapter(Answer)


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(inner) for inner in value]
    if hasattr(value, "tolist"):
        return _plain(value.tolist())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
