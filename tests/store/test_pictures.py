import io

import pytest
from PIL import Image

from tintop.store.pictures import smaller_picture


def saved(picture: Image.Image, kind: str = "PNG", **more) -> bytes:
    found = io.BytesIO()
    picture.save(found, kind, **more)
    return found.getvalue()


def smaller(content: bytes, longest: int = 60) -> Image.Image:
    with Image.open(io.BytesIO(smaller_picture(content, longest))) as found:
        found.load()
        assert found.format == "JPEG" and found.mode == "RGB"
        return found


@pytest.mark.parametrize("size", [(200, 100), (100, 200), (60, 60), (30, 20), (1000, 1)])
def test_the_longer_side_is_so_long_at_most_and_the_shape_is_kept(size):
    found = smaller(saved(Image.new("RGB", size)))
    assert max(found.size) == min(max(size), 60)
    assert abs(found.width / found.height - size[0] / size[1]) < 0.05 * size[0] / size[1] or 1 in found.size


def test_a_photograph_held_on_its_side_stands_upright_and_its_notes_are_gone():
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "CAMERA"
    content = saved(Image.new("RGB", (200, 100)), "JPEG", exif=exif, comment=b"HOME", xmp=b"<x>PLACE</x>")
    assert all(word in content for word in (b"CAMERA", b"HOME", b"PLACE"))
    small = smaller_picture(content, 60)
    assert not any(word in small for word in (b"CAMERA", b"HOME", b"PLACE", b"Exif"))
    assert smaller(content).size == (30, 60)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "L", "1", "CMYK"])
def test_every_kind_of_picture_is_read_and_what_is_transparent_is_white(mode):
    if mode in ("RGBA", "LA"):
        picture = Image.new(mode, (20, 20), (0, 0, 0, 0) if mode == "RGBA" else (0, 0))
    else:
        picture = Image.new("RGB", (20, 20), "white").convert(mode)
    content = saved(picture, "JPEG" if mode == "CMYK" else "PNG")
    assert min(smaller(content).getpixel((10, 10))) > 250


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"%PDF-1.4"])
def test_what_is_no_jpeg_or_png_fails(content):
    with pytest.raises(Exception, match=r".*"):
        smaller_picture(content, 60)
