"""QR codes of a page's address, drawn here so that no web service is needed."""

from ..core.choices import DesignError

MAX_URL = 2000


def qr(url: str) -> dict:
    """A QR code of an address as SVG.  Raises ``DesignError``."""
    import segno  # noqa: PLC0415  (only when asked for)

    if len(url) > MAX_URL:
        raise DesignError("The link is too long for a QR code; save the file instead.")
    code = segno.make(url, error="l", micro=False)
    svg = code.svg_inline(scale=5, border=3, dark="#000", light="#fff", omitsize=True)
    return {"qr": svg, "url": url}
