"""The web server of the pages: kernels, sockets, files, limits."""
