"""The cells of a notebook: read from a text of Markdown, and run without a kernel.

A source holds ordinary Markdown with fenced blocks of ``python``: each block is a code cell, what
stands between two of them a cell of text.  A line ``@relation solids.settling.surface_area`` stands
for the formula, the units and the source of that relation; ``@page`` for the page itself;
``@load family``, ``@turn EXERCISE EXERCISE`` and ``@tie FIGURE UNIT`` for the words and cells below.
"""

import contextlib
import importlib
import io
import re
import tempfile
from pathlib import Path

from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

import rsdesign

SOURCES = Path(__file__).parent / "notebook_sources"
TEACH, CHECKED, IGNORED = "teach", "nbval-check-output", "nbval-ignore-output"
SKIPPED = "nbval-skip"
"""A cell that writes a file: nbval would leave it among the workbooks."""
PLOTLY = "application/vnd.plotly.v1+json"

LOAD = """## Load a design

This opens the design that you kept in another notebook, or else a family's. `with_` changes a
design, and Tab lists what can be changed. Every number may carry its unit.

```python
from rsdesign import {1}

ureg.formatter.default_format = ".4g~P"
design = load("my_design.toml", otherwise="{0}")
design
```
"""
TURN = """## Your turn

Write the code from your card in place of `PRACTICE`: the numbers are then your own. Type your answer
with its unit between the quotes, and run the cell. `first.hint(1)` helps.

```python
from rsdesign.teaching.notebook import check, exercise

first = exercise("{0}", "PRACTICE")
display(first)
check(first, "")
```

```python
second = exercise("{1}", "PRACTICE")
display(second)
check(second, "")
```

## The page

The page and the cells are tied: each sees what the other sets.
"""
TIE = """A cell sets the sliders. Here it sets them to your design; try `other` too.

```python
p.design = design
```

Move a slider, and run this cell again. One change reaches the whole system.

```python
print(p.sizing["{0}"].to("{1}"))
whole = ["tank.required", "solids.captured", "filter.ammonia", "air.required", "pump.head"]
differences(design, p.sizing, whole).round(3)
```
"""
NEXT = """## Where to go next

Run this cell when you like what the sliders show. It keeps your design for the next notebook.
*Next* below the page does both: it keeps the design and opens that notebook.

```python
from rsdesign import save

save(p.design, "my_design.toml")
```

Next: [{0.title}]({0.file}). {0.question}
"""


def lines_of(text: str) -> list[str]:
    """A text as a notebook keeps it."""
    return text.splitlines(keepends=True)


def relation(name: str) -> str:
    """The words of a relation: what it is, formula, units of what goes in and comes out, source."""
    module, _, attribute = name.rpartition(".")
    function = getattr(importlib.import_module(f"rsdesign.equations.{module}"), attribute)
    about, doc = function.equation, function.__doc__
    found = {key: re.search(rf"^{key}: (.*)$", doc, re.M)[1] for key in ("Formula", "Source")}
    given = [f"{word} ({kind.shown('us').label or 'a number'})" for word, kind in about.kinds.items()
             if kind]  # fmt: skip
    result = about.result.shown("us").label or "a number"
    return (f"**{about.summary}** `{found['Formula']}`\n\nIn: {', '.join(given)}. Out: {result}."
            f"\n\nSource: {found['Source']}")  # fmt: skip


def cells_of(source: str) -> list[tuple[str, str]]:
    """Pairs of kind and text: "markdown", "code" or "page"."""

    def words(line: re.Match) -> str:
        more = (used,) if line[1] == "load" else ()
        return {"load": LOAD, "turn": TURN, "tie": TIE}[line[1]].format(*line[2].split(), *more)

    called = set(re.findall(r"(?<![\w.])(\w+)[.(]", source + LOAD + TIE))
    later = set(
        re.findall(r"\w+", "".join(re.findall(r"^from rsdesign import (.*)", source, re.M)))
    )
    used = ", ".join(sorted(called & set(rsdesign.__all__) - later))

    source = re.sub(r"^@(load|turn|tie) (.*)$", words, source, flags=re.M)
    found = []
    for place, part in enumerate(re.split(r"```python\n(.*?)```\n?", source, flags=re.S)):
        text = part.strip()
        if place % 2:
            found.append(("code", text))
            continue
        text = re.sub(r"^@relation (\S+)$", lambda m: relation(m[1]), text, flags=re.M)
        before, page, after = text.partition("@page")
        for kind, words in (("markdown", before), ("page", page), ("markdown", after)):
            if words.strip():
                found.append((kind, words.strip()))
    return found


class Runner:
    """Runs the code cells of one notebook as a kernel would, in this process."""

    def __init__(self):
        # One shell for all, its names emptied for each notebook.
        self.shell = InteractiveShell.instance()
        self.shell.reset(new_session=True)

    def run(self, code: str) -> list[dict]:
        """The outputs of a cell in the notebook format.  Raises what the cell raises."""
        results: list = []
        self.shell.display_trap.hook = results.append
        with capture_output() as captured:
            self.shell.run_cell(code).raise_error()
            # A figure shows itself while it is formatted, and leaves nothing to keep.
            kept = [self.shell.display_formatter.format(r)[0] for r in results if r is not None]
        outputs = []
        if captured.stdout:
            stream = lines_of(captured.stdout)
            outputs.append({"name": "stdout", "output_type": "stream", "text": stream})
        for data in [*(shown.data for shown in captured.outputs), *filter(None, kept)]:
            bundle = {kind: _kept(kind, value) for kind, value in data.items()}
            outputs.append({"data": bundle, "metadata": {}, "output_type": "display_data"})
        return outputs


def _kept(kind: str, value):
    return lines_of(value) if isinstance(value, str) and not kind.endswith("json") else value


@contextlib.contextmanager
def as_in_a_kernel():
    """Plotly and pandas show figures and tables as they do in a kernel; what is kept goes nowhere."""
    import pandas as pd
    import plotly.io as pio

    from rsdesign import ureg

    before, pio.renderers.default = pio.renderers.default, "plotly_mimetype"
    quantities = ureg.formatter.default_format  # the notebooks set it
    try:
        # A terminal's width decides how many columns are shown; a kernel shows twenty.
        with (
            pd.option_context("display.max_columns", 20),
            tempfile.TemporaryDirectory() as folder,
            contextlib.chdir(folder),
        ):
            yield
    finally:
        pio.renderers.default = before
        ureg.formatter.default_format = quantities


def printed(act) -> str:
    """What a call prints."""
    stream = io.StringIO()
    with contextlib.redirect_stdout(stream):
        act()
    return stream.getvalue()
