"""Many designs sized a block at a time, so that memory stays small."""

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np

from ..design.model import Design, arrays_of, with_values


def _block(design: Design, rows: slice) -> Design:
    return with_values(design, {path: value[rows] for path, value in arrays_of(design).items()})


def in_blocks(design: Design, count: int, most: int, size_block: Callable[[Design], Any]):
    """Many designs, a block at a time; a figure that is the same for all stays one number.

    ``size_block`` sizes ``most`` of them at once.  Numbers of a block go straight to their rows of one table, so that the memory of a block
    serves the next one; names, of which the longest is not known ahead, are joined at the end.
    """
    kept: dict[tuple, Any] = {}
    names: dict[tuple, list] = {}
    for start in range(0, count, most):
        rows = slice(start, min(start + most, count))
        block = size_block(_block(design, rows))
        stage_names = [f.name for f in dataclasses.fields(block)][2:]  # after design and tables
        found = {
            (name, f.name): getattr(getattr(block, name), f.name)
            for name in stage_names
            for f in dataclasses.fields(getattr(block, name))
        }
        if start == 0:
            table = np.empty((sum(map(_is_row, found.values())), count))
            place = iter(table)
            kept = {key: next(place) if _is_row(v) else v for key, v in found.items()}
            names = {key: [] for key, v in found.items() if _is_names(v)}
        for key, value in found.items():
            if key in names:
                names[key].append(value)
            elif _is_row(value):
                kept[key][rows] = value
    kept |= {key: np.concatenate(values) for key, values in names.items()}
    stages = {
        name: type(getattr(block, name))(
            *(kept[name, f.name] for f in dataclasses.fields(getattr(block, name)))
        )
        for name in stage_names
    }
    return type(block)(design=design, tables=block.tables, **stages)


def _is_row(value) -> bool:
    return isinstance(value, np.ndarray) and value.ndim == 1 and value.dtype == float


def _is_names(value) -> bool:
    return isinstance(value, np.ndarray) and value.ndim == 1 and value.dtype != float
