"""The one learner of a measured room who has a real browser: Chromium, 375 pixels wide."""

import asyncio
import contextlib
import shutil
import time
from urllib.parse import parse_qs, urlsplit

from rooms import CODE, LAN

from rsdesign.pages.series import SERIES

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
PAGE = next(p for p in SERIES if p.name == "solids")
OTHER = next(p for p in SERIES if p.name == "biofilter")
WAIT = 60_000

MOVE = """async ({seconds, pause}) => {
  const el = document.querySelector("[data-path='solids.overflow_rate'] input[type=range]");
  const figure = document.querySelector("[data-figure='solids.captured']");
  const times = [], end = performance.now() + 1000 * seconds;
  let late = 0, i = window.rsMoved || 0;
  while (performance.now() < end) {
    const start = performance.now();
    const changed = new Promise((done) => {
      const seen = new MutationObserver(() => { seen.disconnect(); requestAnimationFrame(() => done(performance.now())); });
      seen.observe(figure, {childList: true, characterData: true, subtree: true});
      setTimeout(() => { seen.disconnect(); done(null); }, 5000);
    });
    if (Number(el.value) === 40 + (i * 37) % 120) i += 1;
    el.value = 40 + (i++ * 37) % 120;
    el.dispatchEvent(new Event('input', {bubbles: true}));
    const at = await changed;
    if (at === null) late += 1; else times.push(at - start);
    await new Promise((done) => setTimeout(done, pause));
  }
  window.rsMoved = i;
  el.dispatchEvent(new Event('change', {bubbles: true}));
  return [times, late];
}"""


class Phone:
    """A phone that draws a slider the whole time, turns pages and reloads now and then."""

    def __init__(self, browser, server):
        self.browser, self.server, self.view = browser, server, None
        self.spent: list[tuple[float, str, float]] = []
        self.late = 0
        """Moves that were not answered within five seconds."""
        self.wrong: list[str] = []
        self.busy = asyncio.Lock()

    def address(self, page, token: str = "") -> str:
        """The address of a page with a design in it."""
        query = f"?d={token}" if token else ""
        return f"http://{LAN}:{self.server.port}/voila/render/{page.file}{query}"

    async def enter(self) -> float:
        """A phone that has read the poster; seconds until its page is usable."""
        context = await self.browser.new_context(viewport={"width": 375, "height": 740})
        self.view = await context.new_page()
        self.view.on("pageerror", lambda e: self.wrong.append(str(e)))
        start = time.perf_counter()
        await self.view.goto(f"http://{LAN}:{self.server.port}/?token={CODE}", wait_until="commit")
        await self.ready()
        return time.perf_counter() - start

    async def ready(self, timeout: int = WAIT) -> None:
        """Until the page is usable; one that says "wait" loads again by itself."""
        await self.view.wait_for_selector("body[data-ready]", timeout=timeout)

    async def close(self) -> None:
        """Shut the page."""
        if self.view is not None:
            with contextlib.suppress(Exception):
                await self.view.context.close()

    async def load(self, page, token: str = "", how: str = "load") -> float:
        """The full load of a page's address."""
        start = time.perf_counter()
        await self.view.goto(self.address(page, token), wait_until="commit")
        await self.view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)
        seconds = time.perf_counter() - start
        self.spent.append((time.monotonic(), how, seconds))
        return seconds

    async def turn(self, page) -> float:
        """A tap on the navigation, as the page does it; seconds until the page stands."""
        start = time.perf_counter()
        await self.view.evaluate(
            "name => document.querySelector(`#rs-nav a[data-page=${name}]`).click()", page.name
        )
        await self.view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)
        seconds = time.perf_counter() - start
        self.spent.append((time.monotonic(), "turn", seconds))
        return seconds

    async def moves(self, seconds: float, pause: int = 120) -> None:
        """Draw the slider for so long."""
        times, late = await self.view.evaluate(MOVE, {"seconds": seconds, "pause": pause})
        now = time.monotonic()
        self.late += late
        self.spent += [(now, "move", t / 1000) for t in times]

    async def design(self) -> tuple[str, str]:
        """The token in the address bar, once it is written, and the figures on the page."""
        await asyncio.sleep(0.6)
        token = parse_qs(urlsplit(self.view.url).query).get("d", [""])[0]
        return token, await self.view.text_content("[data-figure='solids.captured']")

    async def live(self, stop: asyncio.Event, turn: float = 45.0, reload: float = 180.0) -> None:
        """The slider all the time; a turn to the next page and back, and a reload, now and then."""
        turned = reloaded = time.monotonic()
        while not stop.is_set():
            async with self.busy:
                if stop.is_set():
                    return
                await self.moves(4)
                now = time.monotonic()
                if now - turned > turn:
                    turned = now
                    await self.turn(OTHER)
                    await self.turn(PAGE)
                if now - reloaded > reload:
                    reloaded = now
                    token, figure = await self.design()
                    await self.load(PAGE, token, "reload")
                    after = await self.design()
                    if after != (token, figure):
                        self.wrong.append(f"reloaded, {(token, figure)} became {after}")
            await asyncio.sleep(0)
