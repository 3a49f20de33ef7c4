"""A page as a picture in pixels, for shops that take no drawings; it does not know what is on it."""

import io

import pypdfium2

from planbook.press.press import press_page


def png(html: str, width: int, height: int) -> bytes:
    """The first page of an HTML text as PNG of `width` by `height` pixels, with nothing else in the file.

    Raises MissingLibrary.
    """
    document = pypdfium2.PdfDocument(press_page(html))
    try:
        page = document[0]
        bitmap = page.render(scale=max(width / page.get_width(), height / page.get_height()))
        picture = bitmap.to_pil().convert("RGB").resize((width, height))
    finally:
        document.close()
    out = io.BytesIO()
    picture.save(out, "PNG", optimize=True)
    return out.getvalue()
