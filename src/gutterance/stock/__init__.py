"""Stock: pipe cut from lengths at hand and new ones, pieces run off coils, and the order to run them in."""

from gutterance.stock.cutting import Cut, CutLength, CuttingError, CuttingPlan, Stock
from gutterance.stock.plan_cuts import plan_cuts

__all__ = ["Cut", "CutLength", "CuttingError", "CuttingPlan", "Stock", "plan_cuts"]
