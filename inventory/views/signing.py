"""Who is there: signing in and out, the one-time link, and the password asked once more."""

import functools

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate, update_session_auth_hash
from django.contrib.auth import views as auth
from django.shortcuts import redirect
from django.urls import reverse, reverse_lazy

from inventory import household
from inventory.access import access, public
from inventory.forms.people import (
    ChangePasswordForm,
    FirstPasswordForm,
    PreferencesForm,
    SignInForm,
)
from inventory.sent import sent_once
from inventory.views.editing import form_page


def asks_password(view):
    """Puts on the request whether the own password came along; goes outside `sent_once`.

    Wrong tries count towards the pause of signing in, and must not be taken back with the rest.
    """

    @functools.wraps(view)
    def guarded(request, *args, **kwargs):
        if request.method == "POST":
            typed = request.POST.get("own_password", "")
            found = authenticate(request, username=request.user.username, password=typed)
            request.password_fits = found == request.user
        return view(request, *args, **kwargs)

    return guarded


def password_fits(request) -> bool:
    return getattr(request, "password_fits", False)


class SignIn(auth.LoginView):
    template_name = "inventory/sign_in.html"
    authentication_form = SignInForm

    def form_invalid(self, form):
        return self.render_to_response(self.get_context_data(form=form), status=422)


class PasswordSet(auth.PasswordResetConfirmView):
    """The one-time link; the secret leaves the address before the form is shown."""

    template_name = "inventory/password_set.html"
    form_class = FirstPasswordForm
    token_generator = household.invitations
    success_url = reverse_lazy("inventory:sign-in")

    def form_valid(self, form):
        household.set_password(person=self.user, password=form.cleaned_data["new_password1"])
        self.request.session.pop(auth.INTERNAL_RESET_SESSION_TOKEN, None)
        messages.success(self.request, f"The password is set. Sign in as {self.user.username}.")
        return redirect(self.success_url)

    def form_invalid(self, form):
        return self.render_to_response(self.get_context_data(form=form), status=422)


sign_in = public(SignIn.as_view())
sign_out = public(auth.LogoutView.as_view())
password_set = public(PasswordSet.as_view())


@access(read="guest", write="guest")
@sent_once
def preferences(request):
    person = request.user
    initial = {"name": person.get_full_name(), "units": person.units, "theme": person.theme}
    typed = request.POST if request.method == "POST" else None

    def act(form):
        household.set_preferences(person=person, **form.values())
        return reverse("inventory:preferences")

    return form_page(
        request,
        form=PreferencesForm(typed, initial=initial, person=person),
        act=act,
        title="How you like it",
        template="inventory/preferences.html",
    )


@access(read="guest", write="guest")
@asks_password
@sent_once
def password_change(request):
    typed = request.POST if request.method == "POST" else None

    def act(form):
        household.set_password(person=request.user, password=form.cleaned_data["new_password"])
        update_session_auth_hash(request, request.user)
        return reverse("inventory:preferences")

    return form_page(
        request,
        form=ChangePasswordForm(typed, person=request.user, fits=password_fits(request)),
        act=act,
        title="Change your password",
        words="Every other device you are signed in on is signed out.",
        submit="Change it",
        cancel=reverse("inventory:preferences"),
    )


def site_address(path: str) -> str:
    """The whole address of a page, as it is handed to somebody on another device."""
    return settings.SITE_URL + path
