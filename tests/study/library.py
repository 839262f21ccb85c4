"""An evolutionary library searches a lattice of designs. What designs are worth is asked on stdout, a
list of them a line, and read from stdin: a list of [objectives ..., violation], or none to end."""

import json
import sys

import numpy
from pymoo.algorithms.moo.nsga2 import NSGA2
from pymoo.algorithms.moo.nsga3 import NSGA3
from pymoo.core.problem import Problem
from pymoo.operators.crossover.sbx import SBX
from pymoo.operators.mutation.pm import PM
from pymoo.operators.repair.rounding import RoundingRepair
from pymoo.operators.sampling.rnd import IntegerRandomSampling
from pymoo.optimize import minimize
from pymoo.util.ref_dirs import get_reference_directions

asked = json.loads(sys.argv[1])
objectives = asked["objectives"]


class Sampling(IntegerRandomSampling):
    """Whole numbers at random, and the design that the other search starts from, if it is told."""

    def _do(self, problem, n_samples, **kwargs):
        designs = super()._do(problem, n_samples, **kwargs)
        if asked["start"]:
            designs[0] = asked["start"]
        return designs


class Lattice(Problem):
    def __init__(self):
        last = numpy.array(asked["counts"]) - 1.0
        super().__init__(n_var=len(last), n_obj=objectives, n_ieq_constr=1, xl=0.0 * last, xu=last, vtype=int)

    def _evaluate(self, designs, out, *args, **kwargs):
        print(json.dumps(numpy.rint(designs).astype(int).tolist()), flush=True)
        worth = json.loads(sys.stdin.readline())
        if not worth:
            sys.exit()
        worth = numpy.array(worth)
        out["F"], out["G"] = worth[:, :objectives], worth[:, objectives:]


# The library's own settings, and its own way with whole numbers.
whole = dict(
    sampling=Sampling(),
    crossover=SBX(prob=0.9, eta=15, vtype=float, repair=RoundingRepair()),
    mutation=PM(eta=20, vtype=float, repair=RoundingRepair()),
    eliminate_duplicates=True,
)
if asked["algorithm"] == "NSGA-III":
    directions = get_reference_directions("das-dennis", objectives, n_partitions=12)
    algorithm = NSGA3(pop_size=asked["members"], ref_dirs=directions, **whole)
else:
    algorithm = NSGA2(pop_size=asked["members"], **whole)

minimize(Lattice(), algorithm, ("n_gen", 10**9), seed=asked["seed"])
