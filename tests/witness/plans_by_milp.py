#!/usr/bin/python3
"""Larger programs of visits as one whole model for HiGHS (scipy), which knows no
buildings: a column for each visit, one row for each roof and for each cap.

    plans_by_milp.py DRIVER [--count N] [--roofs N] [--seconds S] [--first SEED]

By hand: 120 seconds for each of a few programs of 60 roofs. Exit status 1 where the bound
is above the best plan that HiGHS finds, where HiGHS proves more than outlay's best plan
is worth, or where a plan breaks its caps or isn't worth what it says.
"""

import argparse
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

import plan_programs

SCALE = 1e-5  # money in thousands: solvers' tolerances are for numbers around 1


class Model:
    def __init__(self, program):
        self.program = program
        self.objective, self.entries, self.columns = [], ([], [], []), 0
        years, roof = program.years, 0
        rows = years + len(program.roofs())
        for b, building in enumerate(program.buildings):
            for year, members, _, value, cost in program.visits(b):
                self.enter(year, cost * SCALE)
                for i in range(len(building)):
                    if members >> i & 1:
                        self.enter(years + roof + i, 1)
                if program.together:
                    self.enter(rows + b, 1)
                self.end(value * SCALE)
            for i, of in enumerate(building):
                if not of.must:
                    self.enter(years + roof + i, 1)
                    self.end(of.idle * SCALE)
            roof += len(building)
        once = len(program.buildings) if program.together else 0
        self.low = [-numpy.inf] * years + [1] * roof + [0] * once
        self.high = [cap * SCALE for cap in program.caps] + [1] * (roof + once)

    def enter(self, row, value):
        for entries, entry in zip(self.entries, (row, self.columns, value)):
            entries.append(entry)

    def end(self, objective):
        self.objective.append(objective)
        self.columns += 1

    def solve(self, seconds):
        """(best plan, bound) in hundredths, None for none."""
        rows, columns, values = self.entries
        matrix = coo_matrix((values, (rows, columns)),
                            (len(self.low), self.columns)).tocsr()
        done = milp(self.objective, integrality=numpy.ones(self.columns),
                    bounds=Bounds(0, 1),
                    constraints=LinearConstraint(matrix, self.low, self.high),
                    options={"time_limit": seconds, "mip_rel_gap": 0})
        value = None if done.x is None else done.fun / SCALE
        bound = None if done.mip_dual_bound is None else done.mip_dual_bound / SCALE
        return value, bound


def random_program(seed, roofs):
    rng = plan_programs.rng(seed)
    sizes = []
    while sum(sizes) < roofs:
        sizes.append(min(rng.randrange(1, 5), roofs - sum(sizes)))
    return plan_programs.Program(rng, sizes, rng.randrange(3, 6), 2,
                                 rng.uniform(0.3, 0.7), 0.02, rng.random() < 0.25)


def check(driver, seed, roofs, seconds):
    """(words, disagrees)."""
    program = random_program(seed, roofs)
    answer = plan_programs.Answer(driver, program, 0.0, 200, seconds)
    value, bound = Model(program).solve(seconds)
    if not answer.feasible:
        return f"not feasible, HiGHS {value}", value is not None
    worth, costs = answer.worked_out(program)
    # a cap that HiGHS keeps to within its tolerance may gain it some cents
    slack = max(100, 1e-6 * abs(worth))
    words = f"{answer.bound:.0f} to {answer.value:.0f}, HiGHS {bound} to {value}"
    wrong = (any(cost > cap for cost, cap in zip(costs, program.caps)) or
             abs(worth - answer.value) > 0.01 or
             (value is not None and answer.bound > value + slack) or
             (bound is not None and answer.value < bound - slack))
    return words, wrong


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("driver")
    parser.add_argument("--count", type=int, default=3)
    parser.add_argument("--roofs", type=int, default=60)
    parser.add_argument("--seconds", type=float, default=120)
    parser.add_argument("--first", type=int, default=0)
    chosen = parser.parse_args()
    bad = 0
    for seed in range(chosen.first, chosen.first + chosen.count):
        words, wrong = check(chosen.driver, seed, chosen.roofs, chosen.seconds)
        print(f"plans_by_milp: program {seed}: {words}{': WRONG' if wrong else ''}",
              flush=True)
        bad += wrong
    sys.exit(bad > 0)


if __name__ == "__main__":
    main()
