"""A file that somebody brings, as its name and its bytes."""

from django import forms

from inventory.forms.base import HouseForm
from inventory.photos import MOST_BYTES


class WholeFile(forms.FileField):
    """Cleans to (name, bytes), or None; a file over `most_bytes` is refused before it is read."""

    def __init__(self, *, most_bytes: int, **kwargs):
        self.most_bytes = most_bytes
        super().__init__(allow_empty_file=True, **kwargs)

    def clean(self, data, initial=None):
        file = super().clean(data, initial)
        if file and file.size > self.most_bytes:
            most = f"{self.most_bytes / 1_000_000:g} MB"
            raise forms.ValidationError(f"The file is larger than {most}; bring less at once.")
        return (file.name, file.read()) if file else None


class PhotoField(WholeFile):
    """A picture taken now or chosen; cleans to its bytes, or None."""

    def __init__(self, **kwargs):
        words = "A JPEG, PNG or WebP; where it was taken is not kept."
        super().__init__(most_bytes=MOST_BYTES, **{"help_text": words, "required": False} | kwargs)
        self.widget.attrs["accept"] = "image/jpeg,image/png,image/webp"
        self.widget.attrs["data-shrink"] = "1600"

    def clean(self, data, initial=None):
        found = super().clean(data, initial)
        return found[1] if found else None


class PhotoForm(HouseForm):
    photo = PhotoField(label="Picture", required=True)
