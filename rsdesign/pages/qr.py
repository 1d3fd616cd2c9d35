"""QR codes of a page's own address, drawn here so that nothing is fetched."""

from ..core.choices import DesignError

LONGEST_URL = 2000


def qr(url: str) -> dict:
    """A QR code of an address as SVG.  Raises ``DesignError``."""
    import segno  # noqa: PLC0415  (only when asked for)

    if len(url) > LONGEST_URL:
        raise DesignError("The link is too long for a QR code; save the file instead.")
    code = segno.make(url, error="l", micro=False)
    picture = code.svg_inline(scale=5, border=3, dark="#000", light="#fff")
    return {"qr": picture, "url": url}
