"""The writers of a report: the same document as text, web page, PDF; its figures as pictures and data."""

from ohmsworth.adapters.render.charts import figure_note, to_png, to_svg, to_vega
from ohmsworth.adapters.render.figure_data import to_csv
from ohmsworth.adapters.render.html import to_html
from ohmsworth.adapters.render.pdf import to_pdf
from ohmsworth.adapters.render.picture_files import figure_files, picture_files
from ohmsworth.adapters.render.text import to_text

__all__ = [
    "figure_files",
    "figure_note",
    "picture_files",
    "to_csv",
    "to_html",
    "to_pdf",
    "to_png",
    "to_svg",
    "to_text",
    "to_vega",
]
