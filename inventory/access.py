"""Who may read and write at an address; a view that does not say is closed to all."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_not_required

from inventory.household import ROLES


@dataclass(frozen=True)
class Access:
    """The lowest role that may read, and the lowest that may write; None means nobody."""

    read: str | None
    write: str | None
    public: bool = False

    def admits(self, role: str | None, method: str) -> bool:
        wanted = self.read if method in ("GET", "HEAD", "OPTIONS") else self.write
        if self.public:
            return True
        return bool(role and wanted) and ROLES.index(role) >= ROLES.index(wanted)


def access(*, read: str | None = None, write: str | None = None):
    """Declare the lowest roles of a view: `@access(read="guest", write="maker")`."""

    def mark(view):
        view.access = Access(read, write)
        return view

    return mark


def public(view):
    """Open to anybody who has the address: sign-in, health, feeds by their secret."""
    view.access = Access(None, None, public=True)
    return login_not_required(view)
