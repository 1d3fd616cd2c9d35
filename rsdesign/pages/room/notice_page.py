"""A small stand-alone page with a title and a notice, for refusals and errors."""

import html


def notice_page(title: str, words: str, home: str = "") -> str:
    """A page with one paragraph, and a link to the first page where ``home`` gives its address."""
    link = f'<p><a href="{html.escape(home)}">Open the first page</a></p>' if home else ""
    return PAGE.format(title=html.escape(title), body=f"<p>{html.escape(words)}</p>{link}")


PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:;base64,=">
<meta name="color-scheme" content="light dark"><style>
body {{ margin: 0 auto; max-width: 34rem; padding: 24px 16px; font: 18px/1.5 "Segoe UI", "Noto Sans", Ubuntu, Arial, sans-serif; background: #FAF6EE; color: #2A2520; }}
h1 {{ font-size: 26px; line-height: 1.25; font-weight: 600; }}
label {{ font-weight: 600; display: block; }}
input, button {{ font: inherit; min-height: 48px; padding: 4px 12px; border: 1px solid #857A6C; border-radius: 2px; background: #F1EADD; color: inherit; box-sizing: border-box; }}
input {{ width: 100%; font-size: 24px; letter-spacing: 2px; margin: 4px 0 12px; }}
a, button {{ color: #9C3D16; }}
:focus-visible {{ outline: 3px solid #14507A; outline-offset: 2px; }}
#wrong {{ color: #A3201D; background: #F6D2CC; border-left: 4px solid; padding: 4px 8px; }}
@media (prefers-color-scheme: dark) {{ body {{ background: #1C1917; color: #F2EBDF; }}
input, button {{ background: #302B26; }} a, button {{ color: #F0A27A; }} :focus-visible {{ outline-color: #8CC4EA; }}
#wrong {{ color: #FF9C8F; background: #532724; }} }}
</style></head><body><main><h1>{title}</h1>{body}</main></body></html>"""
