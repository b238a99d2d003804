"""Addresses of the store and the household."""

from django.urls import path

from inventory.views import (
    activity,
    glass,
    glossary,
    health,
    household,
    items,
    labels,
    lots,
    people,
    photos,
    places,
    receipts,
    requirements,
    sheets,
    shopping,
    shortfalls,
    signing,
    stocktake,
    vessels,
)

app_name = "inventory"

urlpatterns = [
    # store/ and items/
    path("store/", items.store, name="store"),
    path("items/add/", items.item_add, name="item-add"),
    path("items/<int:pk>/", items.item_detail, name="item-detail"),
    path("items/<int:pk>/edit/", items.item_edit, name="item-edit"),
    path("items/<int:pk>/archive/", items.item_archive, name="item-archive"),
    path("items/<int:pk>/instead/", items.substitute_add, name="substitute-add"),
    path("substitutes/<int:pk>/remove/", items.substitute_remove, name="substitute-remove"),
    # lots/
    path("lots/", lots.lot_list, name="lot-list"),
    path("lots/add/", lots.lot_add, name="lot-add"),
    path("lots/<int:pk>/", lots.lot_detail, name="lot-detail"),
    path("lots/<int:pk>/edit/", lots.lot_edit, name="lot-edit"),
    path("lots/<int:pk>/labels/", labels.lot_label, name="lot-labels"),
    path("lots/<int:pk>/photo/", lots.lot_photo, name="lot-photo"),
    path("lots/<int:pk>/use/", lots.lot_use, name="lot-use"),
    path("lots/<int:pk>/count/", lots.lot_count, name="lot-count"),
    path("lots/<int:pk>/adjust/", lots.lot_adjust, name="lot-adjust"),
    path("lots/<int:pk>/convert/", lots.lot_convert, name="lot-convert"),
    path("lots/<int:pk>/throw-out/", lots.lot_throw, name="lot-throw"),
    path("sheets/add/", sheets.sheet_add, name="sheet-add"),
    path("photos/<int:pk>/", photos.photo, name="photo"),
    path("stocktake/", stocktake.stocktake_add, name="stocktake-add"),
    # receipts/ and requirements/
    path("receipts/", receipts.receipt_list, name="receipt-list"),
    path("receipts/add/", receipts.receipt_add, name="receipt-add"),
    path("receipts/<int:pk>/arrive/", receipts.receipt_arrive, name="receipt-arrive"),
    path("receipts/<int:pk>/move/", receipts.receipt_move, name="receipt-move"),
    path("receipts/<int:pk>/cancel/", receipts.receipt_cancel, name="receipt-cancel"),
    path("requirements/add/", requirements.requirement_add, name="requirement-add"),
    path("requirements/<int:pk>/move/", requirements.requirement_move, name="requirement-move"),
    path(
        "requirements/<int:pk>/withdraw/",
        requirements.requirement_withdraw,
        name="requirement-withdraw",
    ),
    # shortfalls/ and shopping/
    path("shortfalls/", shortfalls.shortfall_list, name="shortfall-list"),
    path("shopping/", shopping.shopping_list, name="shopping-list"),
    path("shopping/order/", shopping.shopping_order, name="shopping-order"),
    path("shopping/receive/", shopping.shopping_receive, name="shopping-receive"),
    # glass/ and loans/
    path("glass/", glass.glass_list, name="glass-list"),
    path("glass/<int:pk>/describe/", glass.glass_describe, name="glass-describe"),
    path("glass/wash/", glass.glass_wash, name="glass-wash"),
    path("glass/<int:pk>/move/", glass.glass_move, name="glass-move"),
    path("glass/<int:pk>/lend/", glass.glass_lend, name="glass-lend"),
    path("loans/<int:pk>/return/", glass.loan_return, name="loan-return"),
    # places/, vessels/ and the cellar
    path("places/", places.place_list, name="place-list"),
    path("places/add/", places.place_add, name="place-add"),
    path("places/<int:pk>/edit/", places.place_edit, name="place-edit"),
    path("vessels/", vessels.vessel_list, name="vessel-list"),
    path("vessels/add/", vessels.vessel_add, name="vessel-add"),
    path("vessels/<int:pk>/edit/", vessels.vessel_edit, name="vessel-edit"),
    path("vessels/<int:pk>/lend/", vessels.vessel_lend, name="vessel-lend"),
    path("vessels/<int:pk>/return/", vessels.vessel_return, name="vessel-return"),
    path("vessels/<int:pk>/wash/", vessels.vessel_wash, name="vessel-wash"),
    # household/
    path("household/", household.household, name="household"),
    path("household/edit/", household.household_edit, name="household-edit"),
    path("household/everything.zip", household.everything, name="everything"),
    path("household/people/add/", people.person_add, name="person-add"),
    path("household/people/<int:pk>/edit/", people.person_edit, name="person-edit"),
    path("household/people/<int:pk>/invite/", people.invitation, name="invitation"),
    path("household/activity/", activity.activity_list, name="activity-list"),
    path("household/activity/<int:pk>/undo/", activity.activity_undo, name="activity-undo"),
    # me/
    path("me/", signing.preferences, name="preferences"),
    path("me/password/", signing.password_change, name="password-change"),
    # words/
    path("words/", glossary.glossary, name="glossary"),
    # signing in
    path("sign-in/", signing.sign_in, name="sign-in"),
    path("sign-out/", signing.sign_out, name="sign-out"),
    path("welcome/<str:uidb64>/<str:token>/", signing.password_set, name="password-set"),
    path("health/", health.health, name="health"),
]
