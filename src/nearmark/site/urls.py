"""Every address of the site; who may open it stands in ``roles.ACCESS``."""

from django.urls import path

from nearmark.site.pages import (
    devices,
    differences,
    door,
    entry,
    events,
    history,
    kit,
    kit_item,
    overview,
    pairs,
    standings,
    weigh_in,
)

urlpatterns = [
    path("", door.home, name="home"),
    path("first-run/", door.first_run, name="first-run"),
    path("sign-in/", door.sign_in, name="sign-in"),
    path("sign-out/", door.sign_out, name="sign-out"),
    path("join/", door.join, name="join"),
    path("lock/", door.lock, name="lock"),
    path("unlock/", door.unlock, name="unlock"),
    path("results/", standings.public_results, name="public-results"),
    path("event/", overview.overview, name="overview"),
    path("event/make/", events.event_make, name="event-make"),
    path("event/import/", events.event_import, name="event-import"),
    path("event/demo/", events.event_demo, name="event-demo"),
    path("event/export.zip", events.event_export, name="event-export"),
    path("pairs/", pairs.pairs, name="pairs"),
    path("pairs/add/", pairs.pair_add, name="pair-add"),
    path("pairs/<int:pair_id>/status/", pairs.pair_status, name="pair-status"),
    path("weigh-in/", weigh_in.weigh_in, name="weigh-in"),
    path("entry/", entry.entry, name="entry"),
    path("entry/save/", entry.entry_save, name="entry-save"),
    path("differences/", differences.differences, name="differences"),
    path("differences/decide/", differences.difference_decide, name="difference-decide"),
    path("standings/", standings.standings, name="standings"),
    path("standings/release/", standings.release, name="release"),
    path("standings/withhold/", standings.withhold, name="withhold"),
    path("kit/", kit.kit, name="kit"),
    path("kit/items/add/", kit.kit_item_add, name="kit-item-add"),
    path("kit/instruments/add/", kit.kit_instrument_add, name="kit-instrument-add"),
    path("kit/cups/add/", kit.kit_cup_add, name="kit-cup-add"),
    path("kit/<int:item_id>/", kit_item.kit_item, name="kit-item"),
    path("kit/<int:item_id>/add/<str:kind>/", kit_item.kit_reading_add, name="kit-reading-add"),
    path("kit/<int:item_id>/decide/", kit_item.kit_decide, name="kit-decide"),
    path("kit/<int:item_id>/certificate.pdf", kit_item.kit_certificate, name="kit-certificate"),
    path(
        "kit/strike/<str:kind>/<int:row_id>/",
        kit_item.kit_reading_strike,
        name="kit-reading-strike",
    ),
    path("devices/", devices.devices, name="devices"),
    path("devices/code/", devices.device_code, name="device-code"),
    path("devices/<int:device_id>/revoke/", devices.device_revoke, name="device-revoke"),
    path("history/", history.history, name="history"),
]

handler404 = "nearmark.site.pages.refusals.not_found"
handler500 = "nearmark.site.pages.refusals.our_fault"
