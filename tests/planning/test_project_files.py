"""The `.sm` reader, on a project written for it: two jobs of 4 and 3 that share one resource of 2, then one of 2."""

from time import monotonic

from benchmarks.project_files import project_problem, read_sm
from yokemate.planning.improve import improve
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Limits

TEXT = """\
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           5
   4        1          1           5
   5        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
------------------------------------------------------------------------
  1      1     0       0
  2      1     4       2
  3      1     3       1
  4      1     2       1
  5      1     0       0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1
    2
************************************************************************
"""


def test_a_project_is_read_and_solved() -> None:
    """By hand: 4 alone, then 3 beside 2: finished at 7."""
    project = read_sm(TEXT)
    problem = project_problem(project)
    solved = improve(problem, list_schedule(problem), monotonic, Limits(seconds=2, workers=1, bound=False))

    assert (project.durations, project.capacities) == ([0, 4, 3, 2, 0], [2])
    assert (solved.figures.finish, solved.proved) == (7, True)
