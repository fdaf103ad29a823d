#!/usr/bin/python3
"""Small programs of visits, enumerated: the least value and the least excess of all.

    plans_by_enumeration.py DRIVER [--count N]

For each building all plans are listed, of which those stay that no other one of the same
building beats in value and in every year's cost; then plans of all buildings are put
together, and at each building again those stay that none beats. That drops no best
answer. Up to 12 roofs in 2 to 5 buildings, 4 years, two options. A least excess may stay
unproven, and then be above the enumerated one. Exit status 1 if the least value (or a
proven excess) isn't the enumerated one.
"""

import argparse
import sys

import numpy

import plan_programs


def undominated(rows):
    """Rows of (value, costs...) that no other row is below in all places."""
    rows = rows[numpy.lexsort(rows.T[::-1])]
    kept = numpy.empty_like(rows)
    count = 0
    for row in rows:
        if not (kept[:count, 1:] <= row[1:]).all(axis=1).any():
            kept[count] = row
            count += 1
    return kept[:count].copy()


def building_plans(program, building, capped):
    """(value, costs...) of the plans of a building, year by year."""
    roofs = program.buildings[building]
    everything = (1 << len(roofs)) - 1
    partial = {0: numpy.zeros((1, 1 + program.years))}
    visits = list(program.visits(building))
    for year in range(program.years):
        after = {done: [rows] for done, rows in partial.items()}
        options = {}
        for when, members, _, value, cost in visits:
            if when == year and not (capped and cost > program.caps[year]):
                options.setdefault(members, []).append((value, cost))
        for members, pairs in options.items():
            pairs = undominated(numpy.array(pairs))
            for done, rows in partial.items():
                if done & members or (program.together and done):
                    continue
                for value, cost in pairs:
                    more = rows.copy()
                    more[:, 0] += value
                    more[:, 1 + year] += cost
                    after.setdefault(done | members, []).append(more)
        partial = {done: undominated(numpy.concatenate(rows))
                   for done, rows in after.items()}
    plans = []
    for done, rows in partial.items():
        left = [roof for i, roof in enumerate(roofs)
                if (everything ^ done) >> i & 1]
        if not any(roof.must for roof in left):
            plans.append(rows + numpy.eye(1, 1 + program.years) *
                         sum(roof.idle for roof in left))
    if not plans:
        return numpy.empty((0, 1 + program.years))
    return undominated(numpy.concatenate(plans))


def beside(rows, plans):
    """Each row with each plan."""
    return (rows[:, None, :] + plans[None, :, :]).reshape(-1, rows.shape[1])


def least(program):
    """Least value that keeps the caps; None where there is none."""
    caps = numpy.array(program.caps)
    all_rows = numpy.zeros((1, 1 + program.years))
    for b in range(len(program.buildings)):
        plans = building_plans(program, b, True)
        together = beside(all_rows, plans)
        together = together[(together[:, 1:] <= caps).all(axis=1)]
        if len(together) == 0:
            return None
        all_rows = undominated(together)
    return all_rows[:, 0].min()


def least_excess(program):
    """Least sum of what exceeds the caps; None where windows leave no plan at all."""
    caps = numpy.array(program.caps)
    all_rows = numpy.zeros((1, 1 + program.years))
    for b in range(len(program.buildings)):
        plans = building_plans(program, b, False)
        plans[:, 0] = 0
        if len(plans) == 0:
            return None
        plans = undominated(plans)
        together = beside(all_rows, plans)
        all_rows = undominated(together)
    return numpy.maximum(all_rows[:, 1:] - caps, 0).sum(axis=1).min()


def random_program(rng):
    buildings = rng.randrange(2, 6)
    sizes = [1] * buildings
    for _ in range(rng.randrange(min(8, 13 - buildings))):
        sizes[rng.choice([b for b in range(buildings) if sizes[b] < 5])] += 1
    return plan_programs.Program(rng, sizes, rng.randrange(2, 5), 2,
                                 rng.uniform(0.1, 0.8), rng.choice([0, 0.1, 0.3]),
                                 rng.random() < 0.25)


def check(driver, seed):
    """What disagrees; "" when nothing does."""
    program = random_program(plan_programs.rng(seed))
    answer = plan_programs.Answer(driver, program, 0.0, 300)
    value, costs = answer.worked_out(program)
    best = least(program)
    if answer.feasible != (best is not None):
        return f"feasible: {answer.feasible}, enumerated {best}"
    if best is None:
        excess, over = least_excess(program), sum(answer.over)
        agrees = excess is None or excess == over or (answer.state != 0 and excess < over)
        return "" if agrees else f"over {over}, enumerated {excess}"
    if answer.state != 0:
        return "not proven"
    if any(cost > cap for cost, cap in zip(costs, program.caps)):
        return f"caps {program.caps}, costs {costs}"
    if abs(value - answer.value) > 0.01 or abs(best - answer.value) > 0.5:
        return f"value {answer.value}, worked out {value}, enumerated {best}"
    return "" if answer.bound <= best + 0.01 else f"bound {answer.bound} above {best}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("driver")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--first", type=int, default=0)
    chosen = parser.parse_args()
    bad = 0
    for seed in range(chosen.first, chosen.first + chosen.count):
        words = check(chosen.driver, seed)
        if words:
            print(f"plans_by_enumeration: program {seed}: {words}")
            bad += 1
    print(f"plans_by_enumeration: {chosen.count} programs, {bad} disagree")
    sys.exit(bad > 0)


if __name__ == "__main__":
    main()
