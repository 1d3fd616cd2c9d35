"""The series with JupyterHub's authentication before every handler (needs the extra ``hub``)."""

import inspect

from jupyterhub import __version__
from jupyterhub.services.auth import HubOAuthCallbackHandler
from tornado.routing import Rule

from .app import SeriesApp


def authenticated(handler: type) -> type:
    """The handler for users that the hub admits; others are sent to sign in, or refused."""

    class Authenticated(handler):
        async def prepare(self):
            user = await self.settings["identity_provider"].get_user(self)
            if user is None:
                if self.request.method in ("GET", "HEAD") and not self.request.headers.get(
                    "Upgrade"
                ):
                    self.redirect(self.get_login_url())  # refuses a known user without permission
                else:
                    self.set_status(403)
                    self.finish("Sign in at the hub first.")
                return
            self.request.rsdesign_visitor = user.username
            self.request.rsdesign_admin = bool(user.hub_user.get("admin"))
            ready = super().prepare()
            if inspect.isawaitable(ready):
                await ready

    Authenticated.__name__ = f"Authenticated{handler.__name__}"
    return Authenticated


class OAuthCallback(HubOAuthCallbackHandler):
    """Where the hub redirects a browser after sign-in."""

    def initialize(self, hub_auth):
        """Keep the hub's authenticator."""
        self.hub_auth = hub_auth


class HubSeriesApp(SeriesApp):
    """The application that serves the series to a hub's users."""

    def init_handlers(self):
        """Every handler of the series behind authentication, and the callback of the sign-in."""
        provider = self.identity_provider
        hub = provider.hub_auth
        if not hub.api_token:
            raise RuntimeError("the hub gave no token")
        self.app.settings["headers"]["X-JupyterHub-Version"] = __version__
        # The provider's own routes do not know the base address.
        skipped = {pattern for pattern, *_ in provider.get_handlers()}
        every = super().init_handlers()
        rules = [h for h in every if isinstance(h, Rule)]  # these only refuse
        routes = [h for h in every if not isinstance(h, Rule) and h[0] not in skipped]
        protected = [(h[0], authenticated(h[1]), *h[2:]) for h in routes]
        callback = (f"{self.server_url}oauth_callback", OAuthCallback, {"hub_auth": hub})
        return [callback, *rules, *protected]

    def request_router(self):
        """The handlers themselves: the hub's proxy checks the host, and each handler authenticates."""
        self.room_state.loopback_is_instructor = False  # behind the proxy every request is local
        return self.app

    def announce(self, address: str) -> None:
        """Print nothing: a hub's server has no terminal."""
