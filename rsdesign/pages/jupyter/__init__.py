"""The pages as a Jupyter widget, and the front end that draws them."""
