"""A hand-out of one design: one document, shown as PDF, HTML or a spreadsheet.

``document.compose(sizing, system)`` makes the document from blocks; ``files.make`` gives its bytes
in a format and ``files.write`` puts them in a file.
"""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
