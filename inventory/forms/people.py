from django import forms
from django.contrib.auth.forms import AuthenticationForm, SetPasswordForm, UsernameField
from django.contrib.auth.password_validation import validate_password

from inventory.fields import LineField
from inventory.forms.base import HouseForm
from inventory.household import ROLES
from inventory.models import Person
from inventory.models.people import Theme, Units

NO_FIT = "This name and this password do not fit together. Try again, or ask a keeper for a link."
LONGEST_NAME = Person._meta.get_field("username").max_length
ROLE_WORDS = {
    "guest": "guest: reads the store, the recipes and the batches",
    "picker": "picker: also reads the household, and weighs in what was picked",
    "maker": "maker: also keeps the store, the recipes and the batches",
    "keeper": "keeper: also changes the house and its people",
}
ROLE_CHOICES = [(role, ROLE_WORDS[role]) for role in ROLES]
LENGTH_HELP = "12 letters or more; several words that belong to nobody else are best."


class SignInForm(AuthenticationForm):
    error_messages = {"invalid_login": NO_FIT, "inactive": NO_FIT}

    username = UsernameField(label="Name", widget=forms.TextInput(attrs={"autofocus": True}))

    def clean_username(self):
        """One spelling for each person, so that wrong guesses in other spellings count together."""
        typed = self.cleaned_data["username"].strip()
        if len(typed) > LONGEST_NAME:
            raise forms.ValidationError(NO_FIT)
        known = Person.objects.filter(username__iexact=typed).values_list("username", flat=True)
        return known.first() or typed.casefold()


class OwnPassword(HouseForm):
    """Asks the password again; the view has counted the try, and `fits` is its outcome."""

    own_password = forms.CharField(
        label="Your own password, to be sure it is you",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, *args, fits=False, **kwargs):
        super().__init__(*args, **kwargs)
        self.fits = fits

    def clean_own_password(self):
        if not self.fits:
            raise forms.ValidationError("This is not your password.")

    def values(self):
        return {name: value for name, value in super().values().items() if name != "own_password"}


class PersonForm(HouseForm):
    username = LineField(
        label="Name to sign in with", most=150, help_text="One word, for example ruth."
    )
    first_name = LineField(label="How they are called", most=150, required=False)
    role = forms.ChoiceField(
        label="What they may do", choices=ROLE_CHOICES, widget=forms.RadioSelect
    )


class AccessForm(OwnPassword):
    role = forms.ChoiceField(
        label="What they may do", choices=ROLE_CHOICES, widget=forms.RadioSelect
    )
    active = forms.BooleanField(
        label="May sign in",
        required=False,
        help_text="Without this tick every session and private calendar address of theirs ends.",
    )
    field_order = ["role", "active", "own_password"]


class PreferencesForm(HouseForm):
    name = LineField(label="How you are called", most=150, required=False)
    units = forms.ChoiceField(
        label="Units you like",
        choices=Units.choices,
        help_text="You may type any unit; amounts are shown in these.",
    )
    theme = forms.ChoiceField(label="Light or dark", choices=Theme.choices)


class ChangePasswordForm(OwnPassword):
    new_password = forms.CharField(
        label="New password",
        strip=False,
        help_text=LENGTH_HELP,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    repeated = forms.CharField(
        label="The new password again",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean(self):
        new = self.cleaned_data.get("new_password")
        if new and self.cleaned_data.get("repeated") not in (None, new):
            self.add_error("repeated", "The two new passwords differ.")
        if new:
            try:
                validate_password(new, self.person)
            except forms.ValidationError as error:
                self.add_error("new_password", error)


class FirstPasswordForm(SetPasswordForm):
    error_messages = {"password_mismatch": "The two passwords differ."}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["new_password1"].label = "Your password"
        self.fields["new_password1"].help_text = LENGTH_HELP
        self.fields["new_password2"].label = "The same again"
        self.fields["new_password2"].help_text = ""
