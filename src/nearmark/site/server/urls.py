"""Every address of the site; ``access`` says who may open it, ``help_places`` where its help is."""

from django.urls import path

from nearmark.site.door import device_views as devices
from nearmark.site.door import views as door
from nearmark.site.drills import hand_out_views as hand_out
from nearmark.site.drills import room_views as drill_room
from nearmark.site.drills import seat_views as drill_seat
from nearmark.site.drills import views as drills
from nearmark.site.event_day import division_views as divisions
from nearmark.site.event_day import event_views as events
from nearmark.site.event_day import history_views as history
from nearmark.site.event_day import paper_views as paper
from nearmark.site.event_day import room_views as rooms
from nearmark.site.event_day import tour
from nearmark.site.event_day import views as overview
from nearmark.site.event_day.answers import check_views as checks
from nearmark.site.event_day.answers import difference_views as differences
from nearmark.site.event_day.answers import views as entry
from nearmark.site.event_day.answers import weigh_in_views as weigh_in
from nearmark.site.event_day.day_plan import views as day_plan
from nearmark.site.event_day.events import views as all_events
from nearmark.site.event_day.heats import clock_views as hall_clock
from nearmark.site.event_day.heats import plan_views as heat_plan
from nearmark.site.event_day.heats import roll_call_views as roll_call
from nearmark.site.event_day.heats import views as heats
from nearmark.site.event_day.pairs import import_views as pair_import
from nearmark.site.event_day.pairs import views as pairs
from nearmark.site.event_day.results import announcer_views as announcer
from nearmark.site.event_day.results import audit_views as audit
from nearmark.site.event_day.results import award_views
from nearmark.site.event_day.results import correction_views as corrections
from nearmark.site.event_day.results import export_views as exports
from nearmark.site.event_day.results import feedback_views as feedback
from nearmark.site.event_day.results import pair_views as pair_page
from nearmark.site.event_day.results import point_views as points
from nearmark.site.event_day.results import public_views as public
from nearmark.site.event_day.results import verify_views as verify
from nearmark.site.event_day.results import views as standings
from nearmark.site.event_day.rules import views as rules
from nearmark.site.help import views as help_pages
from nearmark.site.jars import shelf_views as jar_shelf
from nearmark.site.jars import views as jars
from nearmark.site.jobs import views as jobs
from nearmark.site.kit import cup_views as cups
from nearmark.site.kit import item_views as kit_item
from nearmark.site.kit import material_views as materials
from nearmark.site.kit import pour_views as pour
from nearmark.site.kit import purchase_views as purchase
from nearmark.site.kit import reading_views as kit_readings
from nearmark.site.kit import scale_views as scales
from nearmark.site.kit import seal_views as seal
from nearmark.site.kit import thing_views as kit_things
from nearmark.site.kit import views as kit
from nearmark.site.season import calculator_views as calculator
from nearmark.site.season import certificate_views as season_certificates
from nearmark.site.season import club_views as clubs
from nearmark.site.season import coach_views as club_coaches
from nearmark.site.season import data_views as season_data
from nearmark.site.season import ladder_views as scoop_ladder
from nearmark.site.season import meeting_run_views as meeting_run
from nearmark.site.season import meeting_views as meetings
from nearmark.site.season import pair_views as practice_pair
from nearmark.site.season import pupil_views as pupil
from nearmark.site.season import round_views as rounds
from nearmark.site.season import take_home_views as take_home
from nearmark.site.season import thing_views as club_things
from nearmark.site.season import views as season
from nearmark.site.server import doctor_views as doctor

urlpatterns = [
    path("", door.home, name="home"),
    path("first-run/", door.first_run, name="first-run"),
    path("sign-in/", door.sign_in, name="sign-in"),
    path("sign-out/", door.sign_out, name="sign-out"),
    path("join/", door.join, name="join"),
    path("lock/", door.lock, name="lock"),
    path("unlock/", door.unlock, name="unlock"),
    path("results/", public.public_results, name="public-results"),
    path("results/release/<int:number>/", public.public_earlier, name="public-earlier"),
    path("results/pair/", feedback.public_feedback, name="public-feedback"),
    path("results/pair/page.pdf", feedback.public_feedback_file, name="public-feedback-pdf"),
    path("results/pair/proof.txt", verify.pair_proof_file, name="public-pair-proof"),
    path("verify/", verify.verify, name="verify"),
    path("event/", overview.overview, name="overview"),
    path("events/", all_events.events, name="events"),
    path("events/begin/", all_events.event_begin, name="event-begin"),
    path("events/<int:event_id>/open/", all_events.event_open, name="event-open"),
    path("events/<int:event_id>/next/", all_events.event_next, name="event-next"),
    path("events/<int:event_id>/figures/", all_events.event_figures_page, name="event-figures"),
    path("events/<int:event_id>/delete/", all_events.event_delete, name="event-delete"),
    path("rules/", rules.rule_sets, name="rule-sets"),
    path("rules/make/", rules.rule_set_make, name="rule-set-make"),
    path("event/make/", events.event_make, name="event-make"),
    path("event/change/", events.event_change, name="event-change"),
    path("event/divisions/add/", divisions.division_add, name="division-add"),
    path("event/divisions/<int:division_id>/", divisions.division_change, name="division-change"),
    path("event/divisions/<int:division_id>/up/", divisions.division_up, name="division-up"),
    path(
        "event/divisions/<int:division_id>/remove/",
        divisions.division_remove,
        name="division-remove",
    ),
    path("event/rooms/add/", rooms.room_add, name="room-add"),
    path("event/rooms/<int:room_id>/", rooms.room_change, name="room-change"),
    path("event/rooms/<int:room_id>/remove/", rooms.room_remove, name="room-remove"),
    path("event/import/", events.event_import, name="event-import"),
    path("event/demo/", events.event_demo, name="event-demo"),
    path("event/tour/", tour.tour, name="tour"),
    path("event/export.zip", events.event_export, name="event-export"),
    path("pairs/", pairs.pairs, name="pairs"),
    path("pairs/add/", pairs.pair_add, name="pair-add"),
    path("pairs/<int:pair_id>/", pair_page.pair, name="pair"),
    path("pairs/<int:pair_id>/change/", pair_page.pair_change, name="pair-change"),
    path("pairs/<int:pair_id>/story.pdf", pair_page.pair_story_file, name="pair-story-pdf"),
    path("pairs/<int:pair_id>/room/", rooms.pair_room, name="pair-room"),
    path("pairs/<int:pair_id>/division/", divisions.pair_division, name="pair-division"),
    path("pairs/<int:pair_id>/status/", pairs.pair_status, name="pair-status"),
    path("pairs/import/", pair_import.pair_import, name="pair-import"),
    path("pairs/import/all/", pair_import.pair_import_confirm, name="pair-import-confirm"),
    path("day-plan/", day_plan.day_plan, name="day-plan"),
    path("day-plan/save/", day_plan.day_plan_save, name="day-plan-save"),
    path("heats/", heats.heats, name="heats"),
    path("heats/fill/", heats.heat_fill, name="heat-fill"),
    path("heats/move/", heats.heat_move, name="heat-move"),
    path("heats/swap/", heats.heat_swap, name="heat-swap"),
    path("heats/<int:pair_id>/here/", roll_call.heat_check_in, name="heat-check-in"),
    path("heats/check-in/", roll_call.roll_call, name="heat-roll-call"),
    path("clock/", hall_clock.clock, name="clock"),
    path("clock/now.json", hall_clock.clock_now, name="clock-now"),
    path("clock/control/", hall_clock.clock_control, name="clock-control"),
    path("clock/start/", hall_clock.clock_start, name="clock-start"),
    path("clock/pause/", hall_clock.clock_pause_all, name="clock-pause-all"),
    path("clock/go-on/", hall_clock.clock_resume_all, name="clock-resume-all"),
    path("clock/<int:run_id>/extend/", hall_clock.clock_extend, name="clock-extend"),
    path("clock/<int:run_id>/pause/", hall_clock.clock_pause, name="clock-pause"),
    path("clock/<int:run_id>/go-on/", hall_clock.clock_resume, name="clock-resume"),
    path("clock/<int:run_id>/stop/", hall_clock.clock_stop, name="clock-stop"),
    path("weigh-in/", weigh_in.weigh_in, name="weigh-in"),
    path("announcer/", announcer.announcer, name="announcer"),
    path("weigh-in/scale/", checks.scale_checks, name="scale-checks"),
    path("weigh-in/buckets/", checks.buckets, name="buckets"),
    path("entry/", entry.entry, name="entry"),
    path("entry/save/", entry.entry_save, name="entry-save"),
    path("differences/", differences.differences, name="differences"),
    path("differences/decide/", differences.difference_decide, name="difference-decide"),
    path("standings/", standings.standings, name="standings"),
    path("awards/", award_views.awards_page, name="awards"),
    path("awards/run-off.pdf", award_views.run_off_file, name="run-off-pdf"),
    path("standings/standings.pdf", standings.standings_file, name="standings-pdf"),
    path("standings/key-sheet.pdf", standings.key_sheet_file, name="key-sheet-pdf"),
    path("feedback/<int:pair_id>/", feedback.feedback, name="feedback"),
    path("feedback/<int:pair_id>/page.pdf", feedback.feedback_file, name="feedback-pdf"),
    path("standings/release/", standings.release, name="release"),
    path("standings/withhold/", standings.withhold, name="withhold"),
    path("kit/", kit.kit, name="kit"),
    path("kit/items/add/", kit.kit_item_add, name="kit-item-add"),
    path("kit/thing/<str:kind>/add/", kit_things.thing_add, name="thing-add"),
    path("kit/thing/<str:kind>/<int:row_id>/", kit_things.thing, name="thing"),
    path("kit/thing/<str:kind>/<int:row_id>/away/", kit_things.thing_remove, name="thing-remove"),
    path("kit/seal/", seal.seal, name="seal"),
    path("kit/scales/", scales.scales, name="scales"),
    path("kit/cups/", cups.cups, name="cups"),
    path("kit/cups/paste/", cups.cups_paste, name="cups-paste"),
    path("kit/materials/", materials.materials_page, name="materials"),
    path("kit/materials/take/", materials.material_take, name="material-take"),
    path("kit/cautions/", materials.cautions_page, name="cautions"),
    path("kit/pour/", pour.pour, name="pour"),
    path("kit/pour/keep/", pour.pour_keep, name="pour-keep"),
    path("kit/pour/vessel/", pour.vessel_add, name="pour-vessel"),
    path("kit/pour/<int:row_id>/try/", pour.pour_try, name="pour-try"),
    path("kit/pour/<int:row_id>/strike/", pour.pour_strike, name="pour-strike"),
    path("kit/purchase/", purchase.purchase, name="purchase"),
    path("kit/purchase/list.csv", purchase.purchase_csv, name="purchase-csv"),
    path("kit/purchase/list.pdf", purchase.purchase_pdf, name="purchase-pdf"),
    path("kit/<int:item_id>/", kit_item.kit_item, name="kit-item"),
    path("kit/<int:item_id>/add/<str:kind>/", kit_readings.kit_reading_add, name="kit-reading-add"),
    path("kit/<int:item_id>/faces/", kit_readings.kit_faces, name="kit-faces"),
    path("kit/<int:item_id>/history/", kit_item.kit_item_history, name="kit-item-history"),
    path("kit/<int:item_id>/decide/", kit_readings.kit_decide, name="kit-decide"),
    path("kit/<int:item_id>/certificate.pdf", kit_item.kit_certificate, name="kit-certificate"),
    path(
        "kit/strike/<str:kind>/<int:row_id>/",
        kit_readings.kit_reading_strike,
        name="kit-reading-strike",
    ),
    path("devices/", devices.devices, name="devices"),
    path("doctor/", doctor.doctor, name="doctor"),
    path("devices/code/", devices.device_code, name="device-code"),
    path("devices/code/<int:code_id>/", devices.device_joined, name="device-joined"),
    path("devices/<int:device_id>/revoke/", devices.device_revoke, name="device-revoke"),
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/state.json", jobs.jobs_state, name="jobs-state"),
    path("jobs/ask/", jobs.job_ask, name="job-ask"),
    path("jobs/<int:job_id>/cancel/", jobs.job_cancel, name="job-cancel"),
    path("jobs/<int:job_id>/again/", jobs.job_again, name="job-again"),
    path("jobs/<int:job_id>/result", jobs.job_file, name="job-file"),
    path("paper/", paper.paper, name="paper"),
    path("paper/<slug:name>.pdf", paper.paper_file, name="paper-file"),
    path("handbook/<slug:name>.pdf", paper.handbook_file, name="handbook-pdf"),
    path("audit/", audit.audit, name="audit"),
    path("audit/draw/", audit.audit_draw, name="audit-draw"),
    path("audit/read/", audit.audit_read, name="audit-read"),
    path("audit/check/", audit.audit_check, name="audit-check"),
    path("points/", points.points, name="points"),
    path("points/close/", points.point_close, name="point-close"),
    path("points/open-again/", points.point_reopen, name="point-reopen"),
    path("corrections/", corrections.corrections, name="corrections"),
    path("corrections/confirm/", corrections.correction_confirm, name="correction-confirm"),
    path("exports/", exports.exports, name="exports"),
    path("exports/results.zip", exports.results_csv, name="results-csv"),
    path("exports/released.zip", verify.released_folder, name="released-folder"),
    path("exports/results.xlsx", exports.results_xlsx, name="results-xlsx"),
    path("weigh-in/undo/", weigh_in.weigh_in_undo, name="weigh-in-undo"),
    path("heats/late/", heats.heat_late, name="heat-late"),
    path("heats/plan/", heat_plan.heat_plan, name="heat-plan"),
    path("heats/plan/times/", heat_plan.heat_day, name="heat-day"),
    path("heats/plan/search/", heat_plan.heat_plan_ask, name="heat-plan-ask"),
    path("heats/plan/at-once/", heat_plan.heat_draft_quick, name="heat-draft-quick"),
    path("heats/plan/<int:draft_id>/save/", heat_plan.heat_draft_save, name="heat-draft-save"),
    path("heats/plan/<int:draft_id>/leave/", heat_plan.heat_draft_leave, name="heat-draft-leave"),
    path("heats/plan/<int:draft_id>/undo/", heat_plan.heat_plan_undo, name="heat-plan-undo"),
    path("heats/wishes/add/", heat_plan.heat_wish_add, name="heat-wish-add"),
    path("heats/wishes/<int:wish_id>/remove/", heat_plan.heat_wish_remove, name="heat-wish-remove"),
    path("event/missing/", overview.overview_missing, name="overview-missing"),
    path("history/", history.history, name="history"),
    path("drill/", drill_seat.seat_join, name="seat-join"),
    path("drill/now/", drill_seat.seat, name="seat"),
    path("drill/thing/<int:item_id>/", drill_seat.seat_item, name="seat-item"),
    path("drill/hand-in/", drill_seat.seat_hand_in, name="seat-hand-in"),
    path("drill/table/", drill_seat.seat_table, name="seat-table"),
    path("drill/room/state/", drill_seat.seat_room_now, name="seat-room-now"),
    path("drill/leave/", drill_seat.seat_leave, name="seat-leave"),
    path("calculator/", calculator.calculator, name="calculator"),
    path("drills/", drills.drills_page, name="drills"),
    path("drills/club/<int:club_id>/", drills.drill_club, name="drill-club"),
    path("drills/club/<int:club_id>/open/", drills.drill_open, name="drill-open"),
    path("drills/<int:drill_id>/", drills.drill_live, name="drill-live"),
    path("drills/<int:drill_id>/state/", drills.drill_state, name="drill-state"),
    path("drills/<int:drill_id>/door/", hand_out.drill_door, name="drill-door"),
    path("drills/<int:drill_id>/codes.pdf", hand_out.drill_slips, name="drill-slips"),
    path("drills/<int:drill_id>/start/", drills.drill_start, name="drill-start"),
    path("drills/<int:drill_id>/close/", drills.drill_close, name="drill-close"),
    path("drills/<int:drill_id>/room/", drill_room.drill_room, name="drill-room"),
    path("drills/<int:drill_id>/room/now/", drill_room.drill_room_now, name="drill-room-now"),
    path("drills/<int:drill_id>/room/go/", drill_room.drill_room_go, name="drill-room-go"),
    path("handout/", drill_room.handout, name="handout"),
    path("drills/seats/<int:seat_id>/code/", drills.drill_seat_code, name="drill-seat-code"),
    path("bags/", take_home.bags, name="bags"),
    path("bags/labels.pdf", take_home.bags_labels, name="bags-labels"),
    path("pupils/<int:pupil_id>/home-sheet.pdf", take_home.home_sheet, name="home-sheet"),
    # season
    path("season/", season.season, name="season"),
    path("season/make/", season.club_make, name="season-club-make"),
    path("season/demo/", season.season_demo, name="season-demo"),
    path("season/overdue/delete/", season.delete_overdue, name="season-delete-overdue"),
    path("season/<int:club_id>/", clubs.club, name="season-club"),
    path("season/<int:club_id>/pupils/add/", clubs.pupil_add, name="season-pupil-add"),
    path("season/<int:club_id>/pairs/add/", clubs.pair_add, name="season-pair-add"),
    path("season/<int:club_id>/keep/", clubs.club_keep, name="season-club-keep"),
    path("season/<int:club_id>/coaches/", club_coaches.club_coaches, name="club-coaches"),
    path("season/<int:club_id>/delete/", clubs.club_delete, name="season-club-delete"),
    path("season/<int:club_id>/things/", club_things.things, name="season-things"),
    path("season/<int:club_id>/things/add/", club_things.thing_add, name="season-thing-add"),
    path("season/<int:club_id>/things/keys/", club_things.keys, name="season-keys"),
    path("season/thing/<int:thing_id>/", club_things.thing, name="season-thing"),
    path("season/thing/<int:thing_id>/away/", club_things.thing_retire, name="season-thing-retire"),
    path("season/<int:club_id>/round/", rounds.practice_round, name="season-round"),
    path("season/<int:club_id>/round/save/", rounds.round_save, name="season-round-save"),
    path("season/<int:club_id>/round/saved/", rounds.round_saved, name="season-round-saved"),
    path("season/<int:club_id>/round/done/", rounds.round_done, name="season-round-done"),
    path(
        "season/attempt/<int:attempt_id>/strike/",
        rounds.attempt_strike,
        name="season-attempt-strike",
    ),
    path("season/<int:club_id>/meeting/", meetings.meeting_plan, name="season-meeting-plan"),
    path("season/meeting/<int:meeting_id>/", meetings.meeting, name="season-meeting"),
    path("season/meeting/<int:meeting_id>.pdf", meetings.meeting_pdf, name="season-meeting-pdf"),
    path(
        "season/meeting/<int:meeting_id>/again/",
        meetings.meeting_again,
        name="season-meeting-again",
    ),
    path(
        "season/meeting/<int:meeting_id>/start/",
        meeting_run.meeting_start,
        name="season-meeting-start",
    ),
    path("season/meeting/<int:meeting_id>/run/", meeting_run.run, name="season-meeting-run"),
    path("season/meeting/<int:meeting_id>/now/", meeting_run.now, name="season-meeting-now"),
    path("season/meeting/<int:meeting_id>/save/", meeting_run.save, name="season-meeting-save"),
    path(
        "season/meeting/<int:meeting_id>/type/", meetings.meeting_type, name="season-meeting-type"
    ),
    path(
        "season/meeting/<int:meeting_id>/finish/",
        meeting_run.finish,
        name="season-meeting-finish",
    ),
    path(
        "season/meeting/<int:meeting_id>/done/", meetings.meeting_done, name="season-meeting-done"
    ),
    path(
        "season/<int:club_id>/certificates.pdf",
        season_certificates.certificates,
        name="season-certificates",
    ),
    path("season/<int:club_id>/log/", season_data.season_log, name="season-log"),
    path("season/<int:club_id>/log.csv", season_data.log_export, name="season-log-csv"),
    path("season/<int:club_id>/club.zip", season_data.club_export, name="season-club-zip"),
    path("season/<int:club_id>/import/", season_data.log_import, name="season-import"),
    path(
        "season/<int:club_id>/import/all/",
        season_data.log_import_confirm,
        name="season-import-confirm",
    ),
    path("season/pupil/<int:pupil_id>/", pupil.pupil, name="season-pupil"),
    path("season/pupil/<int:pupil_id>/hand/", pupil.body_reading_add, name="season-hand-add"),
    path("season/hand/<int:reading_id>/drop/", pupil.body_reading_drop, name="season-hand-drop"),
    path("season/pupil/<int:pupil_id>/ladder/", scoop_ladder.ladder, name="season-ladder"),
    path(
        "season/pupil/<int:pupil_id>/ladder/add/",
        scoop_ladder.ladder_add,
        name="season-ladder-add",
    ),
    path("season/pupil/<int:pupil_id>/rename/", pupil.pupil_rename, name="season-pupil-rename"),
    path("season/pupil/<int:pupil_id>/delete/", pupil.pupil_delete, name="season-pupil-delete"),
    path("season/pupil/<int:pupil_id>/all.zip", season_data.pupil_export, name="season-pupil-zip"),
    path("season/pair/<int:pair_id>/", practice_pair.practice_pair, name="season-pair"),
    path(
        "season/pair/<int:pair_id>/trained/",
        practice_pair.pair_trained,
        name="season-pair-trained",
    ),
    path("season/pair/<int:pair_id>/end/", practice_pair.pair_end, name="season-pair-end"),
    # help
    path("help/", help_pages.help_list, name="help"),
    path("help/search/", help_pages.help_search, name="help-search"),
    path("help/pictures/<str:name>", help_pages.help_picture, name="help-picture"),
    path("help/<slug:name>/", help_pages.help_page, name="help-page"),
    # practice jars
    path("jars/", jars.jars, name="practice-jars"),
    path("jars/<int:jar_id>/", jars.jar, name="jar"),
    path("jars/part/<str:token>", jars.jar_part, name="jar-part"),
    path("jars/shelf/", jar_shelf.jar_shelf, name="jar-shelf"),
    path("jars/shelf/pouring.json", jar_shelf.jar_pouring, name="jar-pouring"),
    path("jars/shelf/pour/", jar_shelf.jar_pour, name="jar-pour"),
    path("jars/shelf/stop/<int:job_id>/", jar_shelf.jar_stop, name="jar-stop"),
    path("jars/shelf/ready/", jar_shelf.jar_ready, name="jar-ready"),
    path("jars/shelf/import/", jar_shelf.jar_import, name="jar-import"),
    path("jars/shelf/photo/", jar_shelf.jar_photo, name="jar-photo"),
    path("jars/shelf/<int:jar_id>/open/", jar_shelf.jar_open, name="jar-open"),
    path("jars/shelf/<int:jar_id>/off/", jar_shelf.jar_take_off, name="jar-take-off"),
    path("jars/shelf/everybody/", jar_shelf.jar_everybody, name="jar-everybody"),
    path("jars/cards.pdf", jar_shelf.jar_cards_file, name="jar-cards"),
    path("jars/cards-key.pdf", jar_shelf.jar_cards_key_file, name="jar-cards-key"),
    path("jars/boxes.pdf", jar_shelf.box_page_file, name="box-page"),
    path("jars/boxes-key.pdf", jar_shelf.box_key_file, name="box-key"),
]

handler400 = "nearmark.site.common.refusals.bad_request"
handler403 = "nearmark.site.common.refusals.forbidden"
handler404 = "nearmark.site.common.refusals.not_found"
handler500 = "nearmark.site.common.refusals.our_fault"
