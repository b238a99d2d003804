"""A file that somebody brings, as its name and its bytes."""

from django import forms


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
