"""A JupyterHub on one machine that serves the workbooks. tests/test_hub.py starts this file.

    pip install 'rsdesign[hub]'
    mkdir -p ~/rsdesign-hub && cd ~/rsdesign-hub
    RSDESIGN_HUB_WORD='a word for the class' jupyterhub -f jupyterhub_config.py

Then http://THIS-MACHINE:8000/ behind the school's own front (see docs/deployment.md). Each person
signs in with a name of their choice and the word of the class. What is remembered (cookies, names)
lies in the folder in which the hub was started, and nowhere else.
"""

import os
import sys
from pathlib import Path
from urllib.parse import urlsplit

c = get_config()  # noqa: F821  (JupyterHub defines it)
PAGES = [sys.executable, "-m", "rsdesign.pages.server.hub"]

# Only this machine can reach the hub, until a front such as nginx leads to it.
c.JupyterHub.bind_url = os.environ.get("RSDESIGN_HUB_URL", "http://127.0.0.1:8000/")
BASE = f"{urlsplit(c.JupyterHub.bind_url).path.rstrip('/')}/"

# Who comes in. One word for the class, at least eight letters. It does not tell one learner from
# another: where designs are private, use the school's own sign-in (an authenticator of JupyterHub).
c.JupyterHub.authenticator_class = "shared-password"
c.SharedPasswordAuthenticator.user_password = os.environ.get("RSDESIGN_HUB_WORD")
c.Authenticator.allow_all = True

# A server for each person. It runs as the hub's own user, which is no danger here: nobody who opens
# a page can run code or write a file. The folder is only where the program starts.
c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = str(Path.cwd() / "people" / "{username}")
c.Spawner.cmd = PAGES
c.Spawner.environment = {"RSDESIGN_ROOM": f"{BASE}services/room/"}  # teams and wall are the room's
c.Spawner.start_timeout = 60
c.Spawner.http_timeout = 60
c.JupyterHub.concurrent_spawn_limit = 4
c.JupyterHub.active_server_limit = 40

# The proxy in Python: it comes by pip, needs nothing else, and carries web sockets. Another of the
# same interface can stand here, such as the one in JavaScript.
c.ConfigurableHTTPProxy.command = [str(Path(sys.executable).parent / "configurable-http-proxy")]

# The room: one server for all, where a class works side by side (less memory: docs/deployment.md). It
# also holds teams, wall and settings for the servers of one's own. Whoever types its key there is the
# instructor; administrators of the hub are it without one.
room = {
    "name": "room",
    "url": os.environ.get("RSDESIGN_ROOM_URL", "http://127.0.0.1:10101"),
    "command": PAGES,
    "environment": {
        "RSDESIGN_POOL": "1",
        "RSDESIGN_ROOM_KEY": os.environ.get("RSDESIGN_ROOM_KEY", ""),
    },
    "oauth_no_confirm": True,
}

# A server that nobody used for fifteen minutes ends, and the programs of its pages with it.
c.JupyterHub.last_activity_interval = 60
idle = os.environ.get("RSDESIGN_HUB_IDLE", "900")
cull = {
    "name": "cull",
    "command": [sys.executable, "-m", "jupyterhub_idle_culler", f"--timeout={idle}"],
}
c.JupyterHub.services = [room, cull]
c.JupyterHub.load_roles = [
    {"name": "user", "scopes": ["self", "access:services!service=room"]},
    {
        "name": "cull",
        "services": ["cull"],
        "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
    },
]
