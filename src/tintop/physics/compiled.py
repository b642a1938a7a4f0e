"""The one place where kernels are compiled.

A kernel that calls a helper edited in another file would keep the helper's old machine code, so the cache
folder is named by a digest of every source in this room and the numba version: any edit starts afresh.
"""

import hashlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import ParamSpec, TypeVar, cast

import numba

_Arguments = ParamSpec("_Arguments")
_Result = TypeVar("_Result")


def cache_folder() -> Path:
    """Folder of the machine code for this version of the kernels."""
    digest = hashlib.sha256(f"{numba.__version__} {sys.version}".encode())
    for source in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(source.read_bytes())
    home = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(home) / "tintop" / f"kernels-{digest.hexdigest()[:16]}"


def is_warm() -> bool:
    """Whether this version's kernels have been compiled on this machine before."""
    return any(cache_folder().rglob("*.nbc"))


def kernel(function: Callable[_Arguments, _Result]) -> Callable[_Arguments, _Result]:
    """Compile a function of floats, arrays and NamedTuples; it stays plain when NUMBA_DISABLE_JIT=1."""
    if not os.environ.get("NUMBA_CACHE_DIR"):
        setattr(numba.config, "CACHE_DIR", str(cache_folder()))  # noqa: B010 (its own module replaces itself)
    compiled = numba.njit(
        function, cache=True, nogil=True, error_model="numpy", fastmath={"contract", "arcp", "nsz", "reassoc"}
    )
    return cast("Callable[_Arguments, _Result]", compiled)
