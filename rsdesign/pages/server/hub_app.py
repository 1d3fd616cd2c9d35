"""The series with a JupyterHub's sign-in before every handler (needs the extra ``hub``)."""

import inspect

from jupyterhub._version import __version__
from jupyterhub.services.auth import HubOAuthCallbackHandler
from tornado.routing import Rule

from .app import Series


def gated(handler: type) -> type:
    """The handler, answering only whom the hub lets in; others sign in or are refused."""

    class Gated(handler):
        async def prepare(self):
            user = await self.settings["identity_provider"].get_user(self)
            if user is None:
                if self.request.method in ("GET", "HEAD") and not self.request.headers.get(
                    "Upgrade"
                ):
                    self.redirect(self.get_login_url())  # refuses whom the hub knows and forbids
                else:
                    self.set_status(403)
                    self.finish("Sign in at the hub first.")
                return
            self.request.rsdesign_visitor = user.username
            self.request.rsdesign_admin = bool(user.hub_user.get("admin"))
            ready = super().prepare()
            if inspect.isawaitable(ready):
                await ready

    Gated.__name__ = f"Gated{handler.__name__}"
    return Gated


class Back(HubOAuthCallbackHandler):
    """Where the hub sends a browser back to, signed in."""

    def initialize(self, hub_auth):
        """Keep what knows the hub."""
        self.hub_auth = hub_auth


class HubSeries(Series):
    """The application that serves the series to whom a hub lets in."""

    def init_handlers(self):
        """All of the series behind the gate, and the way back from the hub's sign-in."""
        provider = self.identity_provider
        hub = provider.hub_auth
        if not hub.api_token:
            raise RuntimeError("the hub gave no token")
        self.app.settings["headers"]["X-JupyterHub-Version"] = __version__
        theirs = {pattern for pattern, *_ in provider.get_handlers()}  # these know no base address
        every = super().init_handlers()
        rules = [h for h in every if isinstance(h, Rule)]  # these only refuse
        plain = [h for h in every if not isinstance(h, Rule) and h[0] not in theirs]
        ours = [*rules, *((h[0], gated(h[1]), *h[2:]) for h in plain)]
        return [(f"{self.server_url}oauth_callback", Back, {"hub_auth": hub}), *ours]

    def entry(self):
        """The handlers themselves: the proxy names the server, the hub's sign-in stands before each."""
        self.board.loopback = False  # whoever comes through the proxy seems to sit at this machine
        return self.app

    def announce(self, address: str) -> None:
        """Nobody reads a terminal here."""
