"""Names of languages, as files of words carry them and a person chooses one."""

from __future__ import annotations

import re

LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*")
"""A language tag such as `xx` or `xx-YY` (after BCP 47)."""
