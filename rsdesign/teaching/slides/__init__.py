"""Slides of the course: texts of ``data/course`` become notebooks that are run, and pages to project.

``source`` reads a text, ``pictures`` draws what its cells ask for, ``deck`` runs the notebook and
turns it into one page of HTML with nbconvert.  Nothing on a page is fetched from elsewhere.
"""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
