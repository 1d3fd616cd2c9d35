"""Pictures to scale and charts, each with its sentence and its table; no widgets, no files.

``tank.picture``, ``solids.picture``, ``filter.picture``, ``air.picture``, ``pump.levels``,
``outage.falling``, ``money.towers``, ``heat.flows``, ``plan.weeks`` and ``year.year_picture`` take ``(sizing, system, width)``
and give a ``Drawing`` of that width [px], its letters at their natural size; ``system.plan_view`` is for
paper and takes no width.  ``panels.tradeoff_panels`` draws a trade-off, ``small.thumbnails`` systems side by
side on one scale.  ``plan.chart``,
``solids.capture_chart``, ``filter.rate_chart``, ``air.oxygen_chart``, ``pump.curves`` and
``tradeoff.chart`` give a ``Chart``.  ``look`` holds colours, ``sheet`` the pen.

``scene.drawing`` gives the whole system to scale as SVG: ``places`` says what stands where, in meters,
``composition`` sets the scale, ``section`` with ``vessels`` and ``overhead`` draw, ``annotations`` and
``legend`` write, ``labels`` keeps words apart, ``hatch`` holds the patterns.
"""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
