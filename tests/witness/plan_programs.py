"""Random programs of visits, invented, for the witnesses of the plan: written for
tests/witness/plans.c, and priced here in code of its own."""

import itertools
import math
import random
import subprocess
import tempfile

ITEMS = 3
PACKS, PACK_PRICES = [12, 30, 7], [2400000, 930000, 260000]
DISCOUNT, HALF_AREA = 0.12, 3000


class Option:
    def __init__(self, rng, area, years, part, window):
        self.first, self.last = 0, years - 1
        if window:
            self.first = rng.randrange(years)
            self.last = rng.randrange(self.first, years)
        self.area = area * part
        self.items = [int(self.area / 25) + 1, int(self.area / 12) + 1,
                      rng.randrange(2, 8)]
        self.values = []


class Roof:
    def __init__(self, rng, years, options, must):
        area = 100 * math.exp(3 * rng.random())
        worth, wait = area * 10000, area * 2000 * rng.random() ** 2
        window = rng.random() < 0.25
        self.must = rng.random() < must
        self.idle = wait * ((1.12 ** years) - 1) / 0.12
        self.options = [Option(rng, area, years, part, window)
                        for part in (1, 0.45, 0.2)[:options]]
        for option, life in zip(self.options, (25, 10, 5)):
            option.values = [wait * (1.12 ** k - 1) / 0.12 - worth * life / 50 *
                             (1 - (years - k) / life) for k in range(years)]


class Program:
    """Buildings are lists of roofs."""

    def __init__(self, rng, sizes, years, options, share, must=0.1, together=False):
        self.years, self.together = years, together
        self.nominal = [1.03 ** k for k in range(years)]
        self.present = [0.96 ** k for k in range(years)]
        self.buildings = [[Roof(rng, years, options, must) for _ in range(size)]
                          for size in sizes]
        self.fixed = [rng.randrange(150000, 1500000) for _ in sizes]
        whole = sum(self.price(b, [(roof, roof.options[0]) for roof in roofs])
                    for b, roofs in enumerate(self.buildings))
        self.caps = [int(whole * share / years * rng.uniform(0.7, 1.3))
                     for _ in range(years)]

    def roofs(self):
        return [roof for building in self.buildings for roof in building]

    def price(self, building, work):
        """Of a visit: pairs of a roof and what is done to it."""
        area = sum((option.area for _, option in work), 0.0)
        goods = sum(-(-sum(option.items[k] for _, option in work) // PACKS[k]) *
                    PACK_PRICES[k] for k in range(ITEMS))
        factor = 1 - DISCOUNT * (area / (area + HALF_AREA))
        return self.fixed[building] + math.floor(goods * factor + 0.5)

    def cost(self, price, year):
        return math.floor(price * self.nominal[year] + 0.5)

    def visits(self, building):
        """(year, roofs as bits, options by roof, value, cost) of each visit."""
        roofs = self.buildings[building]
        choices = [[None, *range(len(roof.options))] for roof in roofs]
        for chosen in itertools.product(*choices):
            work = [(roof, roof.options[o]) for roof, o in zip(roofs, chosen)
                    if o is not None]
            if not work:
                continue
            price = self.price(building, work)
            members = sum(1 << i for i, o in enumerate(chosen) if o is not None)
            for year in range(self.years):
                if all(o.first <= year <= o.last for _, o in work):
                    value = sum(o.values[year] for _, o in work)
                    yield (year, members, chosen, value + price * self.present[year],
                           self.cost(price, year))

    def text(self):
        lines = [f"{self.years} {len(self.buildings)} {len(self.roofs())} "
                 f"{sum(len(r.options) for r in self.roofs())} {int(self.together)}"]
        for row in (self.caps, self.nominal, self.present, PACKS, PACK_PRICES,
                    [DISCOUNT, HALF_AREA]):
            lines.append(" ".join(map(repr, row)))
        for fixed, roofs in zip(self.fixed, self.buildings):
            lines.append(f"{len(roofs)} {fixed}")
            for roof in roofs:
                lines.append(f"{len(roof.options)} {int(roof.must)} {roof.idle!r}")
                for o in roof.options:
                    lines.append(" ".join(map(repr, [o.first, o.last, o.area, *o.items,
                                                     *o.values])))
        return "\n".join(lines) + "\n"


class Answer:
    def __init__(self, driver, program, gap=0.0, nodes=1000000, seconds=600):
        with tempfile.NamedTemporaryFile("w", suffix=".txt") as file:
            file.write(program.text())
            file.flush()
            done = subprocess.run([driver, file.name, str(gap), str(nodes), str(seconds)],
                                  check=True, capture_output=True, text=True)
        lines = done.stdout.splitlines()
        feasible, state, self.value, self.bound = map(float, lines[0].split())
        self.feasible, self.state = bool(feasible), int(state)
        self.over = list(map(int, lines[1].split()))
        self.picks = [tuple(map(int, line.split())) for line in lines[2:]]

    def worked_out(self, program):
        """Value and costs by year of the picks, by this file's own prices."""
        value, costs, at = 0, [0] * program.years, 0
        for b, roofs in enumerate(program.buildings):
            picks = self.picks[at:at + len(roofs)]
            at += len(roofs)
            value += sum(roof.idle if o < 0 else roof.options[o].values[k]
                         for roof, (o, k) in zip(roofs, picks))
            for year in range(program.years):
                work = [(roof, roof.options[o]) for roof, (o, k) in zip(roofs, picks)
                        if o >= 0 and k == year]
                if work:
                    price = program.price(b, work)
                    value += price * program.present[year]
                    costs[year] += program.cost(price, year)
        return value, costs


def rng(seed):
    return random.Random(seed)
