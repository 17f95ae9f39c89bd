"""Beltwright: the ice-strengthened hull structure of a polar or Baltic ship, from hull form to drawing."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from beltwright.app.project import Project

__all__ = ["Project", "__version__"]
__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    """Load ``Project`` when it is first asked for, so that importing the package stays light."""
    if name == "Project":
        from beltwright.app.project import Project

        return Project
    raise AttributeError(f"module 'beltwright' has no attribute {name!r}")
