"""The job sheet: what was done, read and found in one job, to print or to keep with the vehicle's papers."""

from engine.job.sheet.build import Sheet, build_sheet
from engine.job.sheet.html import to_html
from engine.job.sheet.markdown import to_markdown
from engine.job.sheet.teller import DeclaredUnits, Reader

__all__ = ["DeclaredUnits", "Reader", "Sheet", "build_sheet", "to_html", "to_markdown"]
