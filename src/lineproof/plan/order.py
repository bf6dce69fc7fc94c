"""The order list: what a job needs, what is in the yard, what is short and what is to be ordered, by line.

Quantities are the plan's own; the container's label, the procedure and the drawing stand above them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from lineproof.book.sizes import Size
from lineproof.plan.order_bolts import Drilling, flange_pairs
from lineproof.plan.order_cement import cement_needs, cement_rows
from lineproof.plan.order_flanges import flange_rows
from lineproof.plan.order_model import OrderList
from lineproof.plan.order_parts import fitting_rows, stick_rows
from lineproof.plan.order_store import storage
from lineproof.plan.order_test import rows_for_test, sections_to_test
from lineproof.plan.order_tools import applicator_rows, tool_rows

if TYPE_CHECKING:
    from lineproof.plan.joint_model import JointPlan
    from lineproof.plan.work import Work

__all__ = ["Drilling", "OrderList", "order_list"]


def order_list(
    work: Work,
    joint_plans: Iterable[JointPlan],
    *,
    days: int | None = None,
    refused_lots: Collection[str] = (),
    drillings: Mapping[Size, Drilling] | None = None,
) -> OrderList:
    """Everything to have before the work starts.

    Parameters
    ----------
    work : Work
        Graph, pieces and sticks of the job.
    joint_plans : iterable of JointPlan
        Every joint as planned.
    days : int, optional
        Working days from the first joint to the last; without it no can size can be chosen among several.
    refused_lots : collection of str
        Lots of cement, primer or cleaner that may not be used.
    drillings : mapping, optional
        Drilling by flange size. An inch size that is not in it is Class 150; a metric size is missing.

    Returns
    -------
    OrderList
        A count that cannot be told is None, with its input named.
    """
    joints = tuple(joint_plans)
    settings = work.job.settings
    pairs = flange_pairs(work, drillings or {})
    cement = cement_needs(work, joints, days=days, refused_lots=refused_lots)
    tests = sections_to_test(work)
    cement_list = cement_rows(cement, settings)
    rows = (
        *stick_rows(work),
        *fitting_rows(work),
        *flange_rows(pairs, settings),
        *cement_list,
        *applicator_rows(joints, settings),
        *tool_rows(work, joints),
        *rows_for_test(work, tests),
    )
    return OrderList(
        rows=rows,
        flange_pairs=pairs,
        cement=cement,
        storage=storage(settings, cement_list, work.book),
        tests=tests,
    )
