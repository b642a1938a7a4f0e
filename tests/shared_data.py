"""Where the open data lie beside a checkout; a fresh clone alone has none."""

import os
from pathlib import Path

import pytest

FOLDER = Path(os.environ.get("TINTOP_SHARED_DATA", Path(__file__).parents[2] / "shared" / "data"))


def shared(name: str) -> Path:
    """Give a path below ../shared/data, or skip the test with the reason."""
    path = FOLDER / name
    if not path.exists():
        pytest.skip(f"open data not beside this checkout: {path}")
    return path
