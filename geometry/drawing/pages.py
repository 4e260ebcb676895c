"""The two doors to paper: the template at true size and the cut sheet."""

from geometry.drawing.cut_sheet import compose_cut_sheet
from geometry.drawing.paper import COMMON, PAPERS, Page, Paper, Picture
from geometry.drawing.template import compose_template

__all__ = [
    "COMMON",
    "PAPERS",
    "Page",
    "Paper",
    "Picture",
    "compose_cut_sheet",
    "compose_template",
]
