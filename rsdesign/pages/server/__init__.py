"""The web server of the pages: Voila application, kernels, sockets, limits, JupyterHub."""
