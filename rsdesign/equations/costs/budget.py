"""The enterprise budget over plain numbers: lines in the order that extension uses, break-evens.

Everything is for one full year.  Numbers may be arrays that broadcast: a hundred thousand prices,
yields and feeds go through in one call.  Capital recovery holds loss of value and interest; loan
payments are cash and never stand beside it.
"""

from dataclasses import dataclass, fields

from ...core.arrays import most
from ...core.equation import definition, sum_step, with_labels
from ...core.kinds import KINDS, Days, Fraction, Money, Number, Ratio, Time, Years
from .year import for_each, rest

YEAR_DAYS = 365.25  # units of the source: days tied up


@definition("C", "quantity times price", example="line(1500.0, 1.5) == 2250.0")
def line(quantity: Ratio, price: Ratio) -> Money:
    """One line of a budget: so much of a thing, at its price."""
    return quantity * price


@definition(
    "S",
    "one batch lost every so many years, the rest as planned",
    valid="at least one batch kept",
    example="sold_weight(1000.0, 1.0, 5.0, 2.0) == 900.0",
)
def sold_weight(
    harvest_weight: Ratio, saleable: Fraction, loss_every: Years, batches: Ratio
) -> Ratio:
    """Fish that can be sold or eaten in a mean year, lost batches counted."""
    return harvest_weight * saleable * most(0.0, 1.0 - 1.0 / (loss_every * batches))


@definition(
    "I",
    "interest on the mean of running money, common practice",
    valid="money spent evenly",
    basis="common practice",
    example="round(operating_interest(1000.0, 0.08, 365.25), 6) == 40.0",
)
def operating_interest(money: Money, rate: Fraction, tied_up: Days) -> Money:
    """Interest on running money, which is tied up half the time on the mean."""
    return money * rate * tied_up / YEAR_DAYS / 2.0


@definition(
    "p",
    "Purdue/Illinois-Indiana Sea Grant AS-487, break-even price",
    valid="something sold",
    basis="seen",
    example="break_even_price(9000.0, 1000.0) == 9.0",
)
def break_even_price(costs: Money, sold: Ratio, other_receipts: Money = 0.0) -> Ratio:
    """Price at which the receipts just pay the costs."""
    return (costs - other_receipts) / sold


@definition(
    "Y",
    "Purdue/Illinois-Indiana Sea Grant AS-487, break-even yield",
    valid="price above the variable cost of each",
    basis="seen",
    example="break_even_yield(1000.0, 6.0, 4.0) == 500.0",
)
def break_even_yield(fixed: Money, price: Ratio, variable_each: Ratio) -> Ratio:
    """Yield at which the receipts just pay, where the variable cost follows the yield."""
    return fixed / (price - variable_each)


@definition(
    "w",
    "receipts less every cost but own labour, over own hours",
    valid="hours above zero",
    example="return_per_time(9000.0, 6246.824954, 365.0) == 7.54294533150685",
)
def return_per_time(receipts: Money, costs_without: Money, time: Time) -> Ratio:
    """What own work earns for each time."""
    return (receipts - costs_without) / time


# The same relations as the working of a budget shows them: with the words and kinds of their use.
_MONEY, _EACH, _MASS = KINDS["money"], KINDS["price of mass"], KINDS["mass"]
_INTEREST = with_labels(operating_interest, "Interest on running money",
                    rate=(KINDS["fraction"], "interest a year", "i"))  # fmt: skip
_ABOVE = with_labels(rest, "Income above variable cost", _MONEY, whole=(_MONEY, "receipts", "R"),
                 less=(_MONEY, "variable costs", "K_v"))  # fmt: skip
_UNPAID = with_labels(rest, "Every cost but own labour", _MONEY, whole=(_MONEY, "every cost", "K"),
                  less=(_MONEY, "own labour", "K_l"))  # fmt: skip
_NET = with_labels(rest, "Net return, own hours paid", _MONEY, whole=(_MONEY, "receipts", "R"),
               less=(_MONEY, "every cost", "K"))  # fmt: skip
_NET_UNPAID = with_labels(rest, "Net return, own hours unpaid", _MONEY,
                      whole=(_MONEY, "receipts", "R"),
                      less=(_MONEY, "every cost but own labour", "K_o"))  # fmt: skip
_COST_EACH = with_labels(for_each, "Cost of each weight of fish, own hours paid", _EACH,
                     costs=(_MONEY, "every cost", "K"))  # fmt: skip
_COST_EACH_UNPAID = with_labels(for_each, "Cost of each weight of fish, own hours unpaid", _EACH,
                            costs=(_MONEY, "every cost but own labour", "K_o"))  # fmt: skip
_BREAK_EVEN = with_labels(break_even_price, "Price at which the year just pays", _EACH,
                      sold=(_MASS, "weight sold"),
                      other_receipts=(_MONEY, "worth of fish eaten at home"))  # fmt: skip
_EARNED = with_labels(return_per_time, "What an hour of own work earns", KINDS["wage"],
                  time=(KINDS["hours"], "own work in a year"))  # fmt: skip

VARIABLE = ("fingerlings", "feed", "electricity", "heating", "water", "dechlorinator", "discharge",
            "base", "test_kits", "ice", "supplies", "labour", "operating_interest")  # fmt: skip
FIXED = ("equipment", "repairs", "insurance", "permit")
RECEIPTS = ("sales", "home_use")
LABELS = {
    "sales": "Fish sold", "home_use": "Fish eaten at home, at the price they would have cost",
    "fingerlings": "Fingerlings", "feed": "Feed", "electricity": "Electricity, air and water",
    "heating": "Heating", "water": "Water", "dechlorinator": "Taking the chlorine out",
    "discharge": "Letting water go", "base": "Baking soda, textbook use", "test_kits": "Test kits",
    "ice": "Ice", "supplies": "Small things", "labour": "Own labour",
    "operating_interest": "Interest on running money", "equipment": "Equipment, each at its life",
    "repairs": "Repairs", "insurance": "Insurance", "permit": "Permit",
}  # fmt: skip
"""Every line of the budget, with its words."""


@dataclass(frozen=True, slots=True, eq=False)
class Budget:
    """One full year.  Lines first, then what they add up to; floats or arrays.

    ``sold`` and ``home`` are kg, ``time`` the seconds of own work.
    """

    sales: Number
    home_use: Number
    fingerlings: Number
    feed: Number
    electricity: Number
    heating: Number
    water: Number
    dechlorinator: Number
    discharge: Number
    base: Number
    test_kits: Number
    ice: Number
    supplies: Number
    labour: Number
    operating_interest: Number
    equipment: Number
    repairs: Number
    insurance: Number
    permit: Number
    sold: Number
    home: Number
    time: Number

    def _sum(self, title: str, names: tuple[str, ...]):
        return sum_step(title, _MONEY, {LABELS[name]: getattr(self, name) for name in names})

    @property
    def receipts(self):
        """What comes in, home use counted."""
        return self._sum("Receipts", RECEIPTS)

    @property
    def variable(self):
        """Costs that follow the work of the year."""
        return self._sum("Variable costs", VARIABLE)

    @property
    def fixed(self):
        """Costs that stand whatever the year brings."""
        return self._sum("Fixed costs", FIXED)

    @property
    def above_variable(self):
        """Income above variable cost: while it is above zero, going on pays in the short run."""
        return _ABOVE(self.receipts, self.variable)

    @property
    def costs(self):
        """Every cost, own labour paid."""
        parts = {"Variable costs": self.variable, "Fixed costs": self.fixed}
        return sum_step("Every cost, own hours paid", _MONEY, parts)

    @property
    def costs_unpaid(self):
        """Every cost but own labour."""
        return _UNPAID(self.costs, self.labour)

    @property
    def net(self):
        """Net return, own labour paid."""
        return _NET(self.receipts, self.costs)

    @property
    def net_unpaid(self):
        """Net return with own labour at zero."""
        return _NET_UNPAID(self.receipts, self.costs_unpaid)

    @property
    def cost_of_each(self):
        """Cost for each kg sold or eaten, own labour paid."""
        return _COST_EACH(self.costs, self.sold, self.home)

    @property
    def cost_of_each_unpaid(self):
        """The same with own labour at zero."""
        return _COST_EACH_UNPAID(self.costs_unpaid, self.sold, self.home)

    @property
    def break_even(self):
        """Price of fish sold at which the year pays for itself, own labour paid."""
        return _BREAK_EVEN(self.costs, self.sold, self.home_use)

    @property
    def break_even_unpaid(self):
        """The same with own labour at zero."""
        return _BREAK_EVEN(self.costs_unpaid, self.sold, self.home_use)

    @property
    def wage_earned(self):
        """Return for each second of own labour."""
        return _EARNED(self.receipts, self.costs_unpaid, self.time)


def budget(*, rate, tied_up, **lines) -> Budget:
    """A budget from its lines, with the interest on running money worked out from them.

    ``lines``: every line but ``operating_interest``, and ``sold``, ``home``, ``time``.
    """
    names = {f.name for f in fields(Budget)} - {"operating_interest"}
    if set(lines) != names:
        raise TypeError(f"a budget needs {sorted(names ^ set(lines))}")
    spent = sum_step("Running money, own labour left out", _MONEY, {
        LABELS[name]: lines[name] for name in VARIABLE if name not in ("operating_interest", "labour")
    })  # fmt: skip
    return Budget(**lines, operating_interest=_INTEREST(spent, rate, tied_up))
