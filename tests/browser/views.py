"""A page in a browser, for the tests of what people see."""

import re

WAIT = 20_000


def opened(browser, server, page, query="", **about):
    """A page opened in a context of its own, with what it asked for and what went wrong."""
    context = browser.new_context(
        viewport={"width": about.pop("width", 1280), "height": 900}, **about
    )
    view = context.new_page()
    view.asked, view.wrong = [], []
    view.on("request", lambda r: view.asked.append(r.url))
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(server.page(page.file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    return view


def again(view):
    """Load the page anew."""
    view.reload(wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)


# --- what is folded ---------------------------------------------------------------------------


def fold(view, details, opened=True):
    """Open what is folded under a line, or fold it again, as a person does."""
    view.wait_for_selector(details, state="attached", timeout=WAIT)
    if (view.get_attribute(details, "open") is not None) != opened:
        view.click(f"{details} > summary")


def section(view, name):
    """Open a section of the page that is folded behind its title."""
    fold(view, f".rs-{name} > details")


def figures(view):
    """Open all figures of a page, each with its working behind it."""
    section(view, "figures")


def ask_about(view, path):
    """Press the "?" of a choice: its help, "I do not know", "I have none" and Reset."""
    show_choice(view, path)
    opener = f"[data-path='{path}'] .rs-ask"
    if view.get_attribute(opener, "aria-expanded") == "false":
        view.click(opener)
    view.wait_for_selector(f"[data-path='{path}'] .rs-about", timeout=WAIT)


def show_choice(view, path):
    """Bring a choice into view that may stand behind "More choices"."""
    choice = f".rs-choice[data-path='{path}']"
    if not view.is_visible(choice):
        fold(view, "details.rs-more")
        view.wait_for_selector(choice, timeout=WAIT)


def menu(view, opened=True):
    """Open the menu of what is needed now and then, or close it."""
    fold(view, "details.rs-moretools", opened)


def pick(view, name):
    """Press a button of the menu."""
    menu(view)
    view.click(f".rs-menu button:text-is('{name}')")
    menu(view, False)


def share(view):
    """Open "Keep and share" in the menu."""
    menu(view)
    fold(view, "details.rs-share:not(.rs-team)")


def full(view):
    """All choices of a page, whatever was left open before."""
    menu(view)
    view.wait_for_selector("button:text-is('Show everything'), button:text-is('Show less')")
    if view.is_visible("button:text-is('Show everything')"):
        view.click("button:text-is('Show everything')")
        view.wait_for_selector("button:text-is('Show less')", timeout=WAIT)
    menu(view, False)
    fold(view, "details.rs-more")


def unfold(view):
    """Open everything on a page at once, for what looks at all of it."""
    view.evaluate("""() => {
        for (const d of document.querySelectorAll("details")) d.open = true;
        for (const b of document.querySelectorAll(".rs-ask[aria-expanded=false]")) b.click(); }""")


def turn(view, page):
    """To another page by the strip of the series."""
    menu(view, False)
    view.click(f"#rs-nav a[data-page={page.name}]")
    view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)


# --- a room ---------------------------------------------------------------------------------


def join(view, name, code=""):
    """Start a team, or join one."""
    menu(view)
    fold(view, "details.rs-team")
    view.fill("#rs-team-name", name)
    view.fill("#rs-team-code", code)
    view.click("button:text-is('Join or start')")
    view.wait_for_selector(".rs-teamline.rs-said", timeout=WAIT)
    menu(view, False)


def code_in(view) -> str:
    """The code of a team, as its driver sees it."""
    return re.search(r"[Cc]ode (\w{5})", view.inner_text(".rs-teamline"))[1]


def says(view, selector, words):
    """Wait until words stand somewhere."""
    view.wait_for_function(
        "([s, w]) => (document.querySelector(s) || {textContent: ''}).textContent.includes(w)", arg=[selector, words],
        timeout=WAIT,
    )  # fmt: skip
