"""Pictures to scale and charts, each with its sentence and its table; no widgets, no files.

``tank.picture``, ``solids.picture``, ``filter.picture``, ``air.picture``, ``pump.levels`` and
``system.plan_view`` take ``(sizing, system)`` and give a ``Drawing``; ``plan.chart``,
``solids.capture_chart``, ``filter.rate_chart``, ``air.oxygen_chart``, ``pump.curves`` and
``tradeoff.chart`` give a ``Chart``.  ``look`` holds colours, ``sheet`` the pen.

``scene.drawing`` gives the whole system to scale as SVG: ``places`` says what stands where, in meters,
``composition`` sets the scale, ``section`` with ``vessels`` and ``overhead`` draw, ``annotations`` and
``legend`` write, ``labels`` keeps words apart, ``hatch`` holds the patterns.
"""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
