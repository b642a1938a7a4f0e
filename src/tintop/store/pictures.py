"""Photographs made smaller: upright, and without what the camera noted of place, day and owner."""

import io
import threading

READ_FORMATS = ("JPEG", "PNG")  # a phone's JPEG that holds several pictures reads as MPO
ONE_PICTURE = threading.Lock()  # a large one takes a quarter of a gigabyte while it is read
_WHITE = (255, 255, 255)


def smaller_picture(content: bytes, longest: int, quality: int = 80) -> bytes:
    """The same picture as JPEG, its longer side so many points at most; what is transparent is white.

    Fails in any of Pillow's ways on a damaged one.
    """
    from PIL import Image, ImageOps

    with ONE_PICTURE, Image.open(io.BytesIO(content), formats=READ_FORMATS) as picture:
        picture.draft("RGB", (longest, longest))
        try:
            upright = ImageOps.exif_transpose(picture)
        except Exception:  # the camera's notes are damaged in any of many ways: as it lies, then
            upright = picture
        upright.thumbnail((longest, longest))
        if upright.has_transparency_data:
            seen = upright.convert("RGBA")
            plain = Image.new("RGB", seen.size, _WHITE)
            plain.paste(seen, mask=seen.getchannel("A"))
        else:
            plain = upright.convert("RGB")
        plain.info.clear()
        found = io.BytesIO()
        plain.save(found, "JPEG", quality=quality)
    return found.getvalue()
