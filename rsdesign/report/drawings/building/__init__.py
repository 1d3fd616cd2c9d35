"""Sheets to build a design by, true to scale: SVG in millimeters of paper, and DXF in real units.

``sheets.pages(layout, system, paper)`` gives every sheet of a layout as a ``Page`` (``paper``), a sheet of
plain marks; ``svg.drawing`` shows one as a ``Drawing``, ``dxf.dxf`` for CAD; ``files.write_drawings`` writes
a folder.  ``plan_sheet``, ``section_sheet``, ``isometric_sheet``, ``vessel_sheet``, ``detail_sheet`` and
``list_sheets`` make the sheets; ``ways`` with ``pipe_ways`` and ``air_ways`` say where every pipe runs.
"""

from ....core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
