"""Two QR codes and a short address, for the projector and for the terminal."""

import html

import segno

from .auth import readable

DARK_ON_WHITE, PLAIN = "\x1b[30;107m", "\x1b[0m"


def wifi_text(name: str, password: str = "") -> str:
    r"""The text of a QR code with which a phone joins a Wi-Fi network; the usual escapes for ``\ ; , : "``.

    >>> wifi_text("Fish; barn", "salt:water")
    'WIFI:T:WPA;S:Fish\\; barn;P:salt\\:water;;'
    >>> wifi_text("Open barn")
    'WIFI:T:nopass;S:Open barn;;'
    """

    def safe(text: str) -> str:
        return "".join(f"\\{c}" if c in '\\;,:"' else c for c in text)

    if not password:
        return f"WIFI:T:nopass;S:{safe(name)};;"
    return f"WIFI:T:WPA;S:{safe(name)};P:{safe(password)};;"


def terminal_code(text: str, color: bool = True) -> str:
    """A QR code in half-height blocks, two rows of it in one line.

    Black on white where the terminal has colors; else the blocks are the light parts, as on a dark
    screen.
    """
    rows = [list(row) for row in segno.make(text, error="m", micro=False).matrix_iter(border=2)]
    rows += [[0] * len(rows[0])] * (len(rows) % 2)
    signs = " ▄▀█" if color else "█▀▄ "
    lines = [
        "".join(signs[2 * (up > 0) + (down > 0)] for up, down in zip(*pair, strict=True))
        for pair in zip(rows[::2], rows[1::2], strict=True)
    ]
    return "\n".join(f"{DARK_ON_WHITE}{line}{PLAIN}" if color else line for line in lines)


def svg_code(text: str) -> str:
    """A QR code as SVG."""
    code = segno.make(text, error="m", micro=False)
    return code.svg_inline(scale=8, border=4, dark="#000", light="#fff", omitsize=True)


def poster(address: str, code: str, wifi: str = "", password: str = "", wrong: int = 0) -> str:
    """The poster for the projector as HTML; it shows the code, so it is for the instructor alone."""
    opening = f"{address}?token={readable(code)}"
    steps = []
    if wifi:
        secret = f"<p>Password: <b>{html.escape(password)}</b></p>" if password else ""
        steps.append(("Join the Wi-Fi", svg_code(wifi_text(wifi, password)),
                      f"<p>Name: <b>{html.escape(wifi)}</b></p>{secret}"))  # fmt: skip
    steps.append((
        "Open the page", svg_code(opening),
        f"<p>or type <b>{html.escape(address)}</b></p>"
        f"<p>and this code: <b>{html.escape(readable(code))}</b></p>",
    ))  # fmt: skip
    cards = "".join(
        f'<section><h2>{n}. {title}</h2><div class="code" role="img" aria-label="QR code: {title}">'
        f"{drawing}</div>{words}</section>"
        for n, (title, drawing, words) in enumerate(steps, 1)
    )
    first = "" if wifi else "<p>First join the same Wi-Fi as this machine.</p>"
    return PAGE.format(cards=cards, first=first, wrong=wrong)


PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Come in: the room's poster</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:;base64,="><style>
body {{ margin: 0; padding: 2vh 4vw; background: #fff; color: #2A2520; font: 22px/1.4 "Segoe UI", "Noto Sans", Ubuntu, Arial, sans-serif; }}
h1 {{ font-size: 40px; margin: 0; }} h2 {{ font-size: 32px; margin: 12px 0; }} b {{ font-size: 30px; overflow-wrap: anywhere; }} p {{ margin: 6px 0; }}
.cards {{ display: flex; flex-wrap: wrap; gap: 6vw; }} section {{ flex: 1 1 320px; max-width: 560px; }}
.code svg {{ width: 100%; max-width: 58vh; height: auto; display: block; }}
footer {{ font-size: 16px; color: #5C5349; border-top: 1px solid #857A6C; margin-top: 16px; }}
@media print {{ footer {{ display: none; }} }}
</style></head><body><main><h1>Fish system workbook</h1>{first}<div class="cards">{cards}</div>
<p>Does your phone say that there is no internet? Stay on this Wi-Fi: none is needed.</p></main>
<footer><p>This page holds the code of the room and is shown on this machine alone. Wrong codes so far: {wrong}.</p></footer>
</body></html>"""
