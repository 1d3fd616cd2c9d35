"""Checks of a design: every limit stands in a table with its source, and every check can fail."""

import dataclasses
import math

import numpy as np
import pytest
from designs import demo

from rsdesign.core.kinds import KINDS
from rsdesign.design.model import with_values
from rsdesign.equations.air.devices import ROOM
from rsdesign.equations.pipes.drain_size import LEAST_SPEED, MOST_SPEED
from rsdesign.sizing.checks.advice import ADVICE
from rsdesign.sizing.checks.computed import COMPUTED
from rsdesign.sizing.checks.forms import run_checks
from rsdesign.sizing.checks.rows import NAMED, CheckRow, check_rows, part_rows
from rsdesign.sizing.margins import parts
from rsdesign.sizing.stages.moving import FASTEST
from rsdesign.sizing.system import size
