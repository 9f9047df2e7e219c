"""Where a number, a formula or a table was published, or who says so."""

from __future__ import annotations

from dataclasses import dataclass

#: The kinds of origin a leaf may claim.
KINDS = ("clause", "table", "datasheet", "measured", "input", "assumption", "common practice", "derivation", "print")
HOWS = ("read", "derived", "memory", "")
#: Stands after the citation of what was recalled and not read; ``LEGEND`` says so where marks stand.
MARK = "†"
LEGEND = f"{MARK} recalled, not yet read in the adopted edition: confirm before sealing; listed under Verification"


@dataclass(frozen=True)
class Source:
    """Where a number, a formula or a table was published, or who says so.

    Args:
        kind: One of ``KINDS``.
        title: Standard, document, file or reason.
        edition: Edition as the trade writes it, e.g. ``"22"`` or ``"2023"``.
        locator: Clause, table, row, page, or field and line.
        how: How the number was had: ``read``, ``derived``, ``memory``, or empty where it does not apply.

    """

    kind: str
    title: str
    edition: str = ""
    locator: str = ""
    how: str = ""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"'{self.kind}' is not a kind of source; allowed: {', '.join(KINDS)}.")
        if self.how not in HOWS:
            raise ValueError(f"'{self.how}' does not say how a number was had; allowed: read, derived, memory or nothing.")

    @property
    def citation(self) -> str:
        """Title, edition and locator as one reads them: ``ASCE/SEI 7-22, Eq. 26.10-1``."""
        head = (
            f"{self.title}-{self.edition}" if self.edition[:1].isdigit() else " ".join(filter(None, (self.title, self.edition)))
        )
        return ", ".join(filter(None, (head, self.locator)))

    @property
    def mark(self) -> str:
        """The mark printed after the citation of what was recalled and not read; otherwise nothing."""
        return MARK if self.how == "memory" else ""

    def __str__(self) -> str:
        lead = "" if self.kind in ("clause", "table") else f"{self.kind}: "
        return lead + " ".join(filter(None, (self.citation, self.mark)))
