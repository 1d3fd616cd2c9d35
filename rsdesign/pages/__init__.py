"""The workbooks' pages: ``page("solids")`` in a notebook shows one.

``series`` lists the pages, ``session`` keeps one person's state, ``blocks`` composes what is shown,
``jupyter`` displays it, ``server`` serves the series to browsers, ``room`` shares a class in session.
"""

SERVED = "RSDESIGN_SERVED"
"""Environment variable that tells a kernel that our own server shows its page."""


def page(name: str, system: str = "us"):
    """The page of the series, or of a class, with this name, as a widget for a notebook.

    Keep it by a name, ``p = page("solids")``: ``p.design`` and ``p.sizing`` follow its sliders,
    ``p.design = ...`` moves them, and ``p.observe(act, "sizing")`` calls ``act`` after each change.

    Served by ``rsdesign serve`` it is the same page without the notebook around it.
    """
    import os  # noqa: PLC0415  (importing this package stays light)

    if SERVED in os.environ:
        from .jupyter.served import ServedPage  # noqa: PLC0415

        return ServedPage(name, system)
    from .jupyter.widget import DesignView, PageView  # noqa: PLC0415
    from .series import SERIES  # noqa: PLC0415

    kind = DesignView if name in {about.name for about in SERIES} else PageView
    return kind(name, system)


def check_figures(name: str) -> None:
    """Print a page's key figures for the demo design, in both unit systems, for its check cell."""
    from .blocks import figures  # noqa: PLC0415
    from .series import CLASS  # noqa: PLC0415
    from .session import Session  # noqa: PLC0415

    if name in {page.name for page in CLASS}:
        from .classroom.view import print_bank  # noqa: PLC0415

        print_bank()
        return
    found = [figures(Session(name, system)) for system in ("us", "metric")]
    for us, metric in zip(*found, strict=True):
        values = " = ".join(
            dict.fromkeys(f"{x['value']} {x['unit']}".strip() for x in (us, metric))
        )
        print(f"{us['label']}: {values}")
