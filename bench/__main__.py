"""Print the table of ratios."""

import platform

from . import formulas, frame, jobs, members
from .timing import table


def main() -> None:
    """Measure everything, one after the other, and print."""
    rows = [
        formulas.setting(),
        formulas.scalar_call(),
        *formulas.million(),
        *jobs.recompute(),
        *frame.superposed(),
        *members.checks(),
        *jobs.export(),
    ]
    print(f"Python {platform.python_version()}, {platform.machine()}; least of several turns, both ways in one run\n")
    print(table(rows))


if __name__ == "__main__":
    main()
