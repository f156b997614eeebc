"""How the manual is built. Nothing is fetched: the manual is built and read without a network."""

from importlib.metadata import version as installed_version

from docutils import nodes
from docutils.utils.math.latex2mathml import tex2mathml
from sphinx.application import Sphinx

project = "Ohmsworth"
author = "The Ohmsworth maintainers"
copyright = "The Ohmsworth maintainers"
version = release = installed_version("ohmsworth")

extensions = ["myst_parser", "numpydoc", "sphinx.ext.autodoc", "sphinx.ext.autosummary"]
myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 3
templates_path = ["_templates"]
exclude_patterns = ["_templates"]
default_role = "code"

# A stage's page shows the names in its __all__, in that order, each where a caller finds it.
autodoc_member_order = "bysource"
autodoc_typehints = "signature"
numpydoc_show_class_members = False

html_theme = "furo"
html_title = f"Ohmsworth {release}"
html_math_renderer = "mathml"
html_copy_source = False


def _inline(self, node: nodes.math) -> None:
    self.body.append(tex2mathml(node.astext(), as_block=False))
    raise nodes.SkipNode


def _block(self, node: nodes.math_block) -> None:
    self.body.append(f'<div class="math">{tex2mathml(node.astext(), as_block=True)}</div>')
    raise nodes.SkipNode


def setup(app: Sphinx) -> None:
    """Write formulas as MathML, which browsers draw by themselves; the usual renderer loads a script."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
