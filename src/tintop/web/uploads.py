"""Photographs and papers that are sent in: judged by their content, not by what they call themselves."""

import io
from typing import Literal

from tintop.errors import BadInput, refuse
from tintop.store.pictures import ONE_PICTURE, READ_FORMATS, smaller_picture

MediaType = Literal["image/jpeg", "image/png", "application/pdf"]
LARGEST = 12_000_000  # bytes
LARGEST_PICTURE = 60_000_000  # points
_FORMATS: dict[str, MediaType] = {"JPEG": "image/jpeg", "MPO": "image/jpeg", "PNG": "image/png"}
_EXPECTED = "a photograph (JPEG or PNG) or a PDF"
_SMALL = 480
_HIGH_EFFICIENCY = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif", b"avis")


def judged(content: bytes) -> MediaType:
    """What a file is by its content; raises BadInput unless it is a whole JPEG or PNG, or a PDF."""
    if not content:
        raise refuse("file", "nothing in it", _EXPECTED)
    if len(content) > LARGEST:
        raise refuse(
            "file", f"{len(content) / 1e6:.1f} MB", f"{LARGEST / 1e6:.0f} MB at most", "Send it smaller."
        )
    if content.startswith(b"%PDF-"):
        if b"%%EOF" not in content[-2048:]:
            raise refuse("file", "a PDF that is cut short", "a whole PDF")
        return "application/pdf"
    if content.startswith((b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")):
        return _picture(content)
    if content[4:8] == b"ftyp" and content[8:12] in _HIGH_EFFICIENCY:
        raise refuse(
            "file",
            "a photograph in the phone's own format (HEIC or AVIF)",
            _EXPECTED,
            "Set the phone's camera to JPEG, or save the photograph as JPEG and send that.",
        )
    raise refuse("file", "something else, whatever its name says", _EXPECTED)


def _picture(content: bytes) -> MediaType:
    from PIL import Image

    try:
        with ONE_PICTURE, Image.open(io.BytesIO(content), formats=READ_FORMATS) as picture:
            if picture.width * picture.height > LARGEST_PICTURE:
                raise refuse(
                    "file",
                    f"a picture of {picture.width} by {picture.height} points",
                    f"{LARGEST_PICTURE // 1_000_000} million points at most",
                )
            kind = _FORMATS[str(picture.format)]
            picture.load()
    except BadInput:
        raise
    except Image.DecompressionBombError:
        raise refuse(
            "file",
            "a picture of far too many points",
            f"{LARGEST_PICTURE // 1_000_000} million points at most",
        ) from None
    except Exception:  # a damaged file fails in any of many ways
        raise refuse("file", "a picture that cannot be read", "a whole JPEG or PNG") from None
    return kind


def small_picture(content: bytes) -> bytes:
    """The same picture, upright and small enough for a page, as JPEG without what the camera noted."""
    return smaller_picture(content, _SMALL)


def plain_name(name: str, kind: MediaType) -> str:
    """The name a file came with, without folders and what cannot be printed, and never empty."""
    last = name.replace("\\", "/").rsplit("/", 1)[-1]
    kept = "".join(letter for letter in last if letter.isprintable()).strip(" .")[:100]
    return (
        kept
        or {"image/jpeg": "photograph.jpg", "image/png": "picture.png", "application/pdf": "paper.pdf"}[kind]
    )
