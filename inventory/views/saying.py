"""Say what was just done, in the words of its activity, with undo where there is an opposite."""

from django.contrib import messages

from inventory.models import Activity


def say_done(request, extra: str = "") -> None:
    """Show the newest activity of this person; call it right after the domain function."""
    done = Activity.objects.filter(by=request.user).first()
    if done is None:
        return
    words = f"{done.summary}. {extra}".strip() if extra else f"{done.summary}."
    messages.success(request, words, extra_tags=f"undo:{done.pk}" if done.can_undo else "")
