"""A page in a browser, for the tests of what people see."""

import re

WAIT = 20_000


def opened(browser, server, page, query="", folded=False, **about):
    """A page opened in a context of its own, with what it asked for and what went wrong.

    What is folded is opened, unless ``folded``.
    """
    context = browser.new_context(
        viewport={"width": about.pop("width", 1280), "height": 900}, **about
    )
    view = context.new_page()
    view.asked, view.wrong = [], []
    view.on("request", lambda r: view.asked.append(r.url))
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(server.page(page.file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    if not folded:
        unfold(view)
    return view


def again(view):
    """Load the page anew, and open what is folded."""
    view.reload(wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    unfold(view)


UNFOLD = """() => {
  for (const d of document.querySelectorAll(".rs[data-page] details"))
    if (!d.matches(".rs-moretools, .rs-share, .rs-team, .rs-more, .rs-charts details, .rs-explore details, .rs-figurelist details"))
      d.open = true;
  for (const b of document.querySelectorAll(".rs-ask[aria-expanded=false]")) b.click();
}"""


def unfold(view):
    """Open what is folded on a page, but for the menu and what asks the kernel for more."""
    view.evaluate(UNFOLD)


def section(view, name):
    """Open a folded section, which may be drawn after the page stands."""
    fold = f".rs-{name} > details"
    view.wait_for_selector(fold, state="attached", timeout=WAIT)
    if view.get_attribute(fold, "open") is None:
        view.click(f"{fold} > summary")


def menu(view, opened=True):
    """Open the menu of what is needed now and then, or close it."""
    if (view.get_attribute(".rs-moretools", "open") is not None) != opened:
        view.click(".rs-moretools > summary")


def pick(view, name):
    """Press a button of the menu."""
    menu(view)
    view.click(f".rs-menu button:text-is('{name}')")
    menu(view, False)


def turn(view, page):
    """To another page by the strip of the series."""
    menu(view, False)
    view.click(f"#rs-nav a[data-page={page.name}]")
    view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)
    unfold(view)


def full(view):
    """All choices of a page, whatever was left open before."""
    menu(view)
    view.wait_for_selector("button:text-is('Show everything'), button:text-is('Show less')")
    if view.is_visible("button:text-is('Show everything')"):
        view.click("button:text-is('Show everything')")
        view.wait_for_selector("button:text-is('Show less')", timeout=WAIT)
    menu(view, False)
    view.evaluate("""() => { for (const d of document.querySelectorAll(
      ".rs-more, .rs-charts details, .rs-explore details")) d.open = true; }""")
    unfold(view)


def join(view, name, code=""):
    """Start a team, or join one; the menu with the team stays open."""
    menu(view)
    if view.get_attribute(".rs-team", "open") is None:
        view.click(".rs-team > summary")
    view.fill("#rs-team-name", name)
    view.fill("#rs-team-code", code)
    view.click("button:text-is('Join or start')")
    view.wait_for_selector(".rs-teamline.rs-said", timeout=WAIT)


def code_in(view) -> str:
    """The code of a team, as its driver sees it."""
    return re.search(r"[Cc]ode (\w{5})", view.inner_text(".rs-teamline"))[1]


def says(view, selector, words):
    """Wait until words stand somewhere."""
    view.wait_for_function(
        "([s, w]) => (document.querySelector(s) || {textContent: ''}).textContent.includes(w)", arg=[selector, words],
        timeout=WAIT,
    )  # fmt: skip
