"""What is made of a photo: upright, small enough, in sRGB, and nothing but dots. Pillow itself reads the results."""

import importlib.util
from io import BytesIO
from pathlib import Path
from types import ModuleType

import pytest
from PIL import Image, ImageCms

from planbook.reader.photo_file import ROOM, NotAPhoto, TooManyDots, in_grey, take_photo


def _samples() -> ModuleType:
    spec = importlib.util.spec_from_file_location("photo_samples", Path(__file__).with_name("photo_samples.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


made = _samples()


def opened(data: bytes) -> Image.Image:
    return Image.open(BytesIO(data))


def test_nothing_of_the_camera_is_left() -> None:
    raw = made.from_a_camera()
    assert all(secret in raw for secret in made.SECRETS)
    photo = take_photo("lid.jpg", ".jpg", raw).photo
    assert not [secret for secret in made.SECRETS if secret in photo.kept or secret in photo.jpeg]
    found = opened(photo.kept)
    assert not found.getexif()
    assert not {"icc_profile", "comment", "exif", "xmp", "photoshop"} & found.info.keys()


@pytest.mark.parametrize(
    ("orientation", "bright"),
    # Where row 0 and column 0 of the file lie, by table 6 of CIPA DC-008-2019: the bright side was the left one.
    [(1, "left"), (2, "right"), (3, "right"), (4, "left"), (5, "top"), (6, "top"), (7, "bottom"), (8, "bottom")],
)
def test_turned_upright(orientation: int, bright: str) -> None:
    photo = take_photo("lid.jpg", ".jpg", made.from_a_camera(1200, 800, orientation)).photo
    assert (photo.width > photo.height) == (orientation < 5)
    seen, (w, h) = opened(photo.jpeg).convert("L"), (photo.width, photo.height)
    places = {"left": (9, h // 2), "right": (w - 9, h // 2), "top": (w // 2, 9), "bottom": (w // 2, h - 9)}
    assert max(places, key=lambda place: seen.getpixel(places[place])) == bright


@pytest.mark.parametrize("size", [(4000, 3000), (3000, 4000), (6000, 600), (1157, 10), (300, 200)])
def test_no_larger_than_paper_needs_and_never_enlarged(size: tuple[int, int]) -> None:
    taken = take_photo("lid.jpg", ".jpg", made.photo(*size))
    width, height = taken.photo.width, taken.photo.height
    assert taken.dots == size == opened(made.photo(*size)).size
    assert opened(taken.photo.jpeg).size == (width, height)
    assert width <= min(size[0], ROOM[0])
    assert height <= min(size[1], ROOM[1])
    assert width / height == pytest.approx(size[0] / size[1], rel=0.02)
    assert (width, height) == size or width == ROOM[0] or height == ROOM[1]
    assert (round(98 / 25.4 * 300), 1062) == ROOM


@pytest.mark.parametrize("sort", ["JPEG", "PNG"])
def test_a_copy_of_the_copy_has_the_same_bytes(sort: str) -> None:
    suffix = {"JPEG": ".jpg", "PNG": ".png"}[sort]
    first = take_photo("lid", suffix, made.photo(3000, 2000, sort)).photo
    again = take_photo("lid", suffix, first.kept).photo
    assert opened(first.kept).format == sort
    assert (again.kept, again.jpeg) == (first.kept, first.jpeg)
    assert take_photo("lid", suffix, made.photo(3000, 2000, sort)).photo == first


MODES = {
    "palette": ("PNG", "P"),
    "grey": ("PNG", "L"),
    "two colours": ("PNG", "1"),
    "grey of 16 bits": ("PNG", "I;16"),
    "transparent": ("PNG", "RGBA"),
    "grey and transparent": ("PNG", "LA"),
    "grey photo": ("JPEG", "L"),
}


@pytest.mark.parametrize("what", MODES)
def test_other_sorts_of_dots_are_printed_as_they_look(what: str) -> None:
    sort, mode = MODES[what]
    if mode == "I;16":
        out = BytesIO()
        made.picture(800, 600, "L").convert("I").point(lambda value: value * 257).convert("I;16").save(out, "PNG")
        raw = out.getvalue()
        assert opened(raw).mode.startswith("I")
    else:
        raw = made.photo(800, 600, sort, mode)
    taken = take_photo("lid", ".png" if sort == "PNG" else ".jpg", raw)
    seen = opened(taken.photo.jpeg)
    assert seen.mode in ("L", "RGB")
    assert taken.sure
    grey = seen.convert("L")
    assert grey.getpixel((100, 300)) > 240
    assert grey.getpixel((700, 300)) < (60 if mode != "1" else 255)


def test_what_is_clear_is_paper() -> None:
    out = BytesIO()
    Image.new("RGBA", (800, 600), (0, 0, 0, 0)).save(out, "PNG")
    assert opened(take_photo("lid", ".png", out.getvalue()).photo.jpeg).getpixel((400, 300)) == (255, 255, 255)


def test_a_colour_profile_is_carried_out() -> None:
    """A profile of LittleCMS (ICC.1) that swaps nothing leaves sRGB as it is; numbers in L*a*b* would not."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    plain, told = (take_photo("a", ".png", made.photo(800, 600, "PNG", **more)) for more in ({}, {"icc_profile": srgb}))
    for at in ((100, 300), (700, 300)):
        pair = (opened(each.photo.jpeg).getpixel(at) for each in (plain, told))
        assert all(abs(a - b) <= 3 for a, b in zip(*pair, strict=True))
    assert told.sure
    assert not take_photo("a", ".png", made.photo(800, 600, "PNG", icc_profile=b"no profile" * 20)).sure


def test_four_printing_colours_are_a_guess() -> None:
    taken = take_photo("lid", ".jpg", made.photo(800, 600, "JPEG", "CMYK"))
    assert not taken.sure
    seen = opened(taken.photo.jpeg).convert("L")
    assert seen.getpixel((100, 300)) > 200 > 100 > seen.getpixel((700, 300))


def test_in_grey() -> None:
    photo = take_photo("lid", ".jpg", made.photo()).photo
    grey = in_grey(photo.jpeg)
    assert opened(grey).mode == "L"
    assert opened(grey).size == (photo.width, photo.height)
    assert in_grey(grey) == grey


@pytest.mark.parametrize("cut", [10, 300, 2000, -200])
def test_a_file_cut_off_is_no_photo(cut: int) -> None:
    with pytest.raises(NotAPhoto):
        take_photo("lid.jpg", ".jpg", made.photo()[:cut])


@pytest.mark.parametrize(("sort", "suffix"), [("PNG", ".jpg"), ("JPEG", ".png"), ("GIF", ".jpg"), ("TIFF", ".png")])
def test_another_sort_than_the_name_says(sort: str, suffix: str) -> None:
    with pytest.raises(NotAPhoto):
        take_photo("lid", suffix, made.photo(800, 600, sort))


@pytest.mark.parametrize("size", [(20_000, 10_000), (9_000, 6_000), (2**31 - 1, 2**31 - 1)])
def test_a_giant_is_refused_by_its_head(size: tuple[int, int]) -> None:
    with pytest.raises(TooManyDots):
        take_photo("lid.png", ".png", made.png_head(*size))


def test_several_pictures_in_one_file() -> None:
    out = BytesIO()
    made.picture(800, 600).save(out, "PNG", save_all=True, append_images=[made.picture(800, 600).rotate(180)])
    taken = take_photo("lid", ".png", out.getvalue())
    assert taken.pictures == 2
    assert opened(taken.photo.kept).info == {}
