"""The plan for those who draw: a DXF file at true scale, its layers named in the trade's words."""

from gutterance.render.dxf.plan_file import plan_dxf

__all__ = ["plan_dxf"]
