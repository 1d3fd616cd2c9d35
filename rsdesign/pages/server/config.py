"""Every setting of Voila and Jupyter that the pages' server changes."""

from traitlets.config import Config

from ..series import SERIES
from .sockets import MAX_MESSAGE, PROGRESS_INTERVAL

KERNEL_IDLE_TIMEOUT = 600
"""Seconds without a message after which a kernel ends, whatever became of its page."""
NOTEBOOK_ONLY = ("teach", "nbval-check-output")
"""Tags of the cells that a notebook has and its served page leaves out: they are never run there."""
CULL_INTERVAL = 30
"""Seconds between two checks for idle kernels."""


def voila_config(port: int, pool: int, base: str = "/") -> Config:
    """The configuration of the server on a port, with ``pool`` kernels started ahead."""
    config = Config()
    config.Voila.ip = "127.0.0.1"
    config.Voila.port = port
    config.Voila.base_url = base
    config.Voila.open_browser = False
    config.Voila.tornado_settings = {
        "websocket_max_message_size": MAX_MESSAGE,
        "headers": {"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin"},
    }
    voila = config.VoilaConfiguration
    voila.template = "rsdesign"
    voila.show_tracebacks = False
    voila.http_keep_alive_timeout = PROGRESS_INTERVAL
    voila.strip_sources = True
    voila.allow_template_override = "NO"
    voila.allow_theme_override = "NO"
    voila.preheat_kernel = pool > 0
    voila.default_pool_size = pool
    config.VoilaKernelManager.kernel_pools_config = {
        SERIES[0].file: {"pool_size": pool},
        "default": {"pool_size": 0},
    }
    # Refill the pool once the page that took the last kernel has loaded, not while it loads.
    config.VoilaKernelManager.fill_delay = 4
    # Do not restart a kernel that died: a new one would know nothing of its page.
    config.KernelRestarter.restart_limit = 0
    config.MappingKernelManager.cull_idle_timeout = KERNEL_IDLE_TIMEOUT
    config.MappingKernelManager.cull_interval = CULL_INTERVAL
    config.MappingKernelManager.cull_connected = False
    config.TagRemovePreprocessor.enabled = True
    config.TagRemovePreprocessor.remove_cell_tags = list(NOTEBOOK_ONLY)
    return config
