"""The writers of a report: the same document as text, web page, PDF; its figures as pictures and data."""

from ohmsworth.adapters.render.charts import figure_note, load_engine, to_png, to_svg, to_vega
from ohmsworth.adapters.render.figure_data import to_csv
from ohmsworth.adapters.render.fragment import report_style, to_fragment, to_inline
from ohmsworth.adapters.render.html import to_html
from ohmsworth.adapters.render.label import LabelKind, LabelSize, to_label
from ohmsworth.adapters.render.pdf import Attached, to_pdf
from ohmsworth.adapters.render.picture_files import (
    figure_file,
    figure_files,
    named_figures,
    named_file,
    picture_files,
)
from ohmsworth.adapters.render.text import to_text
from ohmsworth.adapters.render.worker import apart, start_worker, stop_worker

__all__ = [
    "Attached",
    "LabelKind",
    "LabelSize",
    "apart",
    "figure_file",
    "figure_files",
    "figure_note",
    "load_engine",
    "named_figures",
    "named_file",
    "picture_files",
    "report_style",
    "start_worker",
    "stop_worker",
    "to_csv",
    "to_fragment",
    "to_html",
    "to_inline",
    "to_label",
    "to_pdf",
    "to_png",
    "to_svg",
    "to_text",
    "to_vega",
]
